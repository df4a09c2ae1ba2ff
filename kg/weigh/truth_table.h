// Works out a small circuit by its truth table: up to six leaves fit one machine word.
//
// Most claims rest on a handful of readings; for them this is some hundred times quicker than setting up BuDDy.
// Cost: one word operation per gate input, and at most 63 nodes a root.
#pragma once

#include "kg/weigh/circuit.h"
#include "kg/weigh/diagram.h"

namespace saggar::weighing {

constexpr std::uint32_t most_truth_table_leaves = 6;

// The same diagram as work_out() gives, up to the numbering of its nodes. Requires circuit.leaves <= 6.
Diagram work_out_small(const Circuit& circuit);

}  // namespace saggar::weighing
