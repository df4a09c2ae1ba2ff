// Works out a circuit exactly with BuDDy, a library of reduced ordered binary decision diagrams.
//
// BuDDy keeps one node table per process. Here it is set up for one circuit and taken down again, behind a mutex, so
// that an answer (and whether the budget suffices) never depends on what was asked before. What is kept is a Diagram.
//
// Cost: at worst exponential in the leaves; the budget bounds it. Bryant, "Graph-based algorithms for Boolean function
// manipulation" (1986).
#pragma once

#include <optional>

#include "kg/weigh/circuit.h"
#include "kg/weigh/diagram.h"

namespace saggar::weighing {

// The diagram of all roots over one order, or nothing when more than `node_budget` nodes would be needed at once.
// Leaf i of the circuit (index i + 1) is leaf i of the diagram. Thread-safe; callers wait for each other.
std::optional<Diagram> work_out(const Circuit& circuit, std::size_t node_budget);

// "All of the first `taken` roots" as one function.
struct Conjunction {
    Diagram diagram;  // with one root
    std::size_t taken = 0;
};
// Of as many leading roots as fit the budget; the gates must stand in the order in which the roots need them. Thread-safe.
Conjunction work_out_conjunction(const Circuit& circuit, std::size_t node_budget);

}  // namespace saggar::weighing
