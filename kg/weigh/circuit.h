// A piece of lineage cut out for one computation: numbered leaves, gates over them, and the functions asked for.
//
// Index 0 is the certain event, 1..leaves are the leaves in the order the decision diagram will use, and the gates
// follow, children first. BuDDy, the truth table and the sampler all read this one form.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "kg/weigh/lineage.h"

namespace saggar::weighing {

struct Circuit {
    std::uint32_t leaves = 0;
    std::vector<std::uint32_t> gate_end;  // inputs of gate g are inputs[gate_end[g-1] .. gate_end[g])
    std::vector<Event> inputs;            // events over local indices
    std::vector<Event> roots;

    std::size_t gates() const { return gate_end.size(); }
    std::uint32_t gate_index(std::size_t gate) const { return 1 + leaves + static_cast<std::uint32_t>(gate); }
    std::span<const Event> gate_inputs(std::size_t gate) const {
        const std::uint32_t begin = gate == 0 ? 0 : gate_end[gate - 1];
        return std::span<const Event>(inputs).subspan(begin, gate_end[gate] - begin);
    }
};

}  // namespace saggar::weighing
