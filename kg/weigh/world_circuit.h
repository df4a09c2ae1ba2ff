// What is left of worked-out figures for the sampler: one circuit over independent leaves.
//
// The parts that were past the node budget are put back into one circuit, each in the place where it was used. Its leaves
// are single chances, and parts that were worked out exactly and so are chances themselves. Cost: linear in the parts.
#pragma once

#include <vector>

#include "kg/weigh/circuit.h"
#include "kg/weigh/figures.h"
#include "kg/weigh/modules.h"

namespace saggar::weighing {

struct WorldCircuit {
    std::vector<Piece::Leaf> leaves;  // leaf i is index i + 1 of the circuit: a variable of the lineage or an exact part
    Circuit circuit;                  // its roots are those of the figures
};

// Works for exact figures too: their last part is taken as if it were not worked out.
WorldCircuit circuit_of_worlds(const Figures& figures);

}  // namespace saggar::weighing
