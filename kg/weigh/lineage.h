// The lineage of a question: an event over independent chances, as a shared graph of "all of" gates and negations.
//
// Every answer of the weighing is the probability of such an event. Nodes are added and never changed; equal gates are
// one node (hash-consing), so a premise used twice is one node with two parents. "Any of" is the negation of "all of"
// the negations. Children are always older than their parents, so a walk by index is a walk from the leaves up.
//
// Cost: adding a gate is linear in its inputs. After Green, Karvounarakis, Tannen, "Provenance semirings" (PODS 2007)
// for the idea of keeping the lineage, and the and-inverter graphs of circuit verification for the form.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <unordered_map>
#include <vector>

namespace saggar::weighing {

// A node of a lineage or its negation. Node 0 is the certain event.
struct Event {
    std::uint32_t code = 0;

    static Event of(std::uint32_t node, bool negated = false) { return {node << 1 | static_cast<std::uint32_t>(negated)}; }
    static Event always() { return {0}; }
    static Event never() { return {1}; }
    std::uint32_t node() const { return code >> 1; }
    bool negated() const { return code & 1; }
    Event operator!() const { return {code ^ 1}; }
    auto operator<=>(const Event&) const = default;
};

// Not thread-safe while it grows; any number of threads may read it afterwards.
class Lineage {
public:
    Lineage();

    // A new independent chance, 0..1. `label` means whatever the caller wants; equal labels do not make equal chances.
    Event chance(double probability, std::uint32_t label = 0);

    Event all_of(std::span<const Event> events);
    Event any_of(std::span<const Event> events);
    Event both(Event a, Event b);
    Event either(Event a, Event b) { return !both(!a, !b); }

    std::size_t nodes() const { return nodes_.size(); }
    std::size_t variables() const { return chances_.size(); }
    bool is_variable(std::uint32_t node) const { return nodes_[node].count == variable_mark; }
    // The number of the variable at this node, counted from 0 in the order of creation.
    std::uint32_t variable(std::uint32_t node) const { return nodes_[node].first; }
    // The node of a variable.
    std::uint32_t node_of(std::uint32_t variable) const { return variable_nodes_[variable]; }
    // What a gate needs all of; empty for variables and for node 0.
    std::span<const Event> inputs(std::uint32_t node) const;

    std::span<const double> chances() const { return chances_; }
    std::uint32_t label(std::uint32_t variable) const { return labels_[variable]; }

private:
    static constexpr std::uint32_t variable_mark = 0xFFFFFFFF;
    struct Node {
        std::uint32_t first = 0;  // of a gate: its first input; of a variable: its number
        std::uint32_t count = 0;
    };

    Event intern(std::span<const Event> sorted);

    std::vector<Node> nodes_;
    std::vector<Event> inputs_;
    std::vector<double> chances_;
    std::vector<std::uint32_t> labels_;
    std::vector<std::uint32_t> variable_nodes_;
    std::unordered_multimap<std::uint64_t, std::uint32_t> gates_;  // hash of the inputs -> node
    std::vector<Event> scratch_;
};

}  // namespace saggar::weighing
