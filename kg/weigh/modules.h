// Finds the private parts of a lineage: gates whose chances are met nowhere else.
//
// Such a part (a module) may be replaced by one chance with its own probability, exactly: a source used once, several
// readings of one source in one claim, two halves of a question that share nothing. What is left between modules is
// cut into circuits, each small enough to be worked out by itself.
//
// Cost: linear in the lineage. Dutuit and Rauzy, "A linear-time algorithm to find modules of fault trees", IEEE
// Transactions on Reliability 45 (1996): a gate is a module iff nothing below it is first met before it is entered, or
// met again after it is left, on a walk from the roots.
#pragma once

#include <span>
#include <vector>

#include "kg/weigh/circuit.h"
#include "kg/weigh/lineage.h"

namespace saggar::weighing {

// One module, or the part below the roots. Leaves are variables of the lineage or earlier pieces.
struct Piece {
    struct Leaf {
        bool is_piece = false;
        std::uint32_t number = 0;  // of the variable or the piece
    };
    std::vector<Leaf> leaves;  // leaf i is index i + 1 of the circuit
    Circuit circuit;
};

// Pieces with those they rest on before them; the last one has the roots asked for, in order. Variables marked in `decided`
// (by number; empty: none) are taken to be settled: they may be met anywhere without tying parts together, so the
// pieces are only independent where these chances are 0 or 1.
// Leaves are numbered in the order in which a walk over `order`, then over the roots, first meets their variables: the
// order the diagrams will use.
std::vector<Piece> cut_into_pieces(const Lineage& lineage, std::span<const Event> roots, std::span<const char> decided = {},
                                   std::span<const Event> order = {});

}  // namespace saggar::weighing
