// Worlds in which an event holds, drawn as such instead of waited for.
//
// Where contradictions are likely, plain sampling throws nearly every world away. The event "no contradiction" rests on
// few of the chances, though, and is an "all of": as many of its conjuncts as the node budget allows go into a decision
// diagram. A walk down the diagram that turns at each node by the chance given that "yes" is reached draws a world in
// which these conjuncts hold, with the right probability; chances that the walk does not meet stay as they were drawn.
// What is left of the event is waited for as before, within these worlds, so the drawn worlds that are kept have the
// very distribution that rejection gives.
//
// Cost: one diagram for all runs; a walk of at most one step per chance and world. Knuth, The Art of Computer Programming
// 4A (2011), section 7.1.4, "random solutions" of a decision diagram.
#pragma once

#include <cstdint>
#include <random>
#include <span>
#include <vector>

#include "kg/weigh/circuit.h"
#include "kg/weigh/diagram.h"

namespace saggar::weighing {

class Condition {
public:
    // For an event of the circuit. Quadratic in its conjuncts.
    Condition(const Circuit& circuit, Event event, std::size_t node_budget);

    // Whether all conjuncts are in the diagram: then every drawn world has the event.
    bool whole() const { return whole_; }
    std::size_t nodes() const { return diagram_.nodes.size(); }

private:
    friend class ConditionedWorlds;
    Diagram diagram_;                  // its one root: the conjuncts taken
    std::vector<std::uint32_t> leaf_;  // leaf of the diagram -> leaf of the circuit
    bool whole_ = true;
};

// Draws with given chances. One thread; keeps a reference to the condition.
class ConditionedWorlds {
public:
    // `chances`: per leaf of the circuit.
    ConditionedWorlds(const Condition& condition, std::span<const double> chances);

    // Of the conjuncts taken, exactly. 0: there is nothing to draw.
    double probability() const { return values_[condition_.diagram_.roots[0]]; }
    // Of the conjuncts taken, given that a leaf of the circuit holds, and that it fails.
    double given(std::uint32_t leaf) const { return probability() + (1 - chances_[leaf]) * slopes_[leaf]; }
    double given_not(std::uint32_t leaf) const { return probability() - chances_[leaf] * slopes_[leaf]; }

    // Sixty-four freely drawn worlds, one per bit of each leaf's word, become worlds with the conjuncts.
    // Requires probability() > 0.
    void impose(std::vector<std::uint64_t>& leaf_words, std::mt19937_64& random) const;

private:
    const Condition& condition_;
    std::vector<double> chances_;       // per leaf of the circuit
    std::vector<double> values_;        // per index of the diagram
    std::vector<double> high_;          // per node: the chance of its leaf, given that "yes" is reached
    std::vector<double> slopes_;        // per leaf of the circuit
};

}  // namespace saggar::weighing
