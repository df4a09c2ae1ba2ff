#include "kg/weigh/condition.h"

#include <utility>

#include "kg/weigh/bdd.h"

namespace saggar::weighing {

namespace {

constexpr unsigned lanes_a_word = 64;

// The events that must all hold for `event`.
std::vector<Event> conjuncts_of(const Circuit& circuit, Event event) {
    if (event == Event::always()) return {};
    if (event.negated() || event.node() <= circuit.leaves) return {event};
    const auto inputs = circuit.gate_inputs(event.node() - 1 - circuit.leaves);
    return {inputs.begin(), inputs.end()};
}

// Cuts out of a circuit what its conjuncts rest on, gates in the order in which the conjuncts need them.
class ConeCutter {
public:
    explicit ConeCutter(const Circuit& circuit) : circuit_(circuit) {}

    // In the order in which they are first met below the conjunct.
    std::vector<std::uint32_t> leaves_of(Event conjunct) const {
        Marks met(marks());
        std::vector<std::uint32_t> leaves;
        visit(conjunct, met, [&](std::uint32_t leaf) { leaves.push_back(leaf); }, [](std::uint32_t) {});
        return leaves;
    }

    Circuit cut(std::span<const Event> conjuncts) {
        Marks met(marks());
        std::vector<std::uint32_t> gates;
        for (const Event conjunct : conjuncts) {
            visit(conjunct, met, [&](std::uint32_t leaf) { leaf_.push_back(leaf); }, [&](std::uint32_t gate) { gates.push_back(gate); });
        }
        std::vector<std::uint32_t> index(met.size(), 0);
        Circuit cone;
        for (const std::uint32_t leaf : leaf_) index[leaf + 1] = ++cone.leaves;
        const auto local = [&](Event event) { return event.node() == 0 ? event : Event::of(index[event.node()], event.negated()); };
        for (const std::uint32_t gate : gates) {
            for (const Event input : circuit_.gate_inputs(gate)) cone.inputs.push_back(local(input));
            cone.gate_end.push_back(static_cast<std::uint32_t>(cone.inputs.size()));
            index[circuit_.gate_index(gate)] = cone.gate_index(cone.gates() - 1);
        }
        for (const Event conjunct : conjuncts) cone.roots.push_back(local(conjunct));
        return cone;
    }

    std::vector<std::uint32_t> take_leaves() { return std::move(leaf_); }

private:
    using Marks = std::vector<char>;
    Marks marks() const { return Marks(1 + circuit_.leaves + circuit_.gates(), 0); }

    // Leaves when they are met, gates when all below them is done. Own stack.
    template <class OnLeaf, class OnGate>
    void visit(Event from, Marks& met, OnLeaf on_leaf, OnGate on_gate) const {
        std::vector<std::pair<std::uint32_t, std::size_t>> stack;
        const auto enter = [&](std::uint32_t node) {
            if (node == 0 || met[node]) return;
            met[node] = 1;
            if (node <= circuit_.leaves) {
                on_leaf(node - 1);
            } else {
                stack.emplace_back(node - 1 - circuit_.leaves, 0);
            }
        };
        enter(from.node());
        while (!stack.empty()) {
            auto& [gate, next] = stack.back();
            const auto inputs = circuit_.gate_inputs(gate);
            if (next < inputs.size()) {
                enter(inputs[next++].node());
            } else {
                on_gate(gate);
                stack.pop_back();
            }
        }
    }

    const Circuit& circuit_;
    std::vector<std::uint32_t> leaf_;
};

// Puts conjuncts that share leaves side by side, so that few leaves have to be kept in mind between them: the next one is
// always that which adds fewest leaves still needed by others, less those that nobody needs after it.
std::vector<Event> side_by_side(const ConeCutter& cutter, const std::vector<Event>& conjuncts, std::size_t leaves) {
    std::vector<std::vector<std::uint32_t>> rests_on;
    std::vector<std::size_t> needed(leaves, 0);  // by so many conjuncts not placed yet
    for (const Event conjunct : conjuncts) {
        rests_on.push_back(cutter.leaves_of(conjunct));
        for (const std::uint32_t leaf : rests_on.back()) ++needed[leaf];
    }
    std::vector<char> open(leaves, 0), placed(conjuncts.size(), 0);
    const auto cost = [&](std::size_t conjunct) {
        long balance = 0;
        for (const std::uint32_t leaf : rests_on[conjunct]) balance += needed[leaf] > 1 ? !open[leaf] : -static_cast<long>(open[leaf]);
        return std::pair(balance, rests_on[conjunct].size());
    };
    std::vector<Event> ordered;
    while (ordered.size() < conjuncts.size()) {
        std::size_t best = conjuncts.size();
        for (std::size_t i = 0; i < conjuncts.size(); ++i) {
            if (!placed[i] && (best == conjuncts.size() || cost(i) < cost(best))) best = i;
        }
        placed[best] = 1;
        ordered.push_back(conjuncts[best]);
        for (const std::uint32_t leaf : rests_on[best]) open[leaf] = --needed[leaf] > 0;
    }
    return ordered;
}

}  // namespace

Condition::Condition(const Circuit& circuit, Event event, std::size_t node_budget) {
    ConeCutter cutter(circuit);
    const std::vector<Event> conjuncts = side_by_side(cutter, conjuncts_of(circuit, event), circuit.leaves);
    const Circuit cone = cutter.cut(conjuncts);
    leaf_ = cutter.take_leaves();
    Conjunction worked_out = work_out_conjunction(cone, node_budget);
    diagram_ = std::move(worked_out.diagram);
    whole_ = worked_out.taken == conjuncts.size();
}

ConditionedWorlds::ConditionedWorlds(const Condition& condition, std::span<const double> chances)
    : condition_(condition), chances_(chances.begin(), chances.end()), slopes_(chances.size(), 0.0) {
    const Diagram& diagram = condition.diagram_;
    std::vector<double> own;
    for (const std::uint32_t leaf : condition.leaf_) own.push_back(chances[leaf]);
    diagram.values(own, values_);
    std::vector<double> own_slopes(own.size(), 0.0), reach;
    diagram.add_slopes(own, values_, diagram.roots[0], 1.0, own_slopes, reach);
    for (std::size_t i = 0; i < own.size(); ++i) slopes_[condition.leaf_[i]] = own_slopes[i];
    for (const Diagram::Node& node : diagram.nodes) {
        const double with = own[node.leaf] * values_[node.high], without = (1 - own[node.leaf]) * values_[node.low];
        high_.push_back(without <= 0 ? 1 : with / (with + without));
    }
}

void ConditionedWorlds::impose(std::vector<std::uint64_t>& leaf_words, std::mt19937_64& random) const {
    constexpr double unit = 1.0 / 9007199254740992.0;  // 2^-53
    const Diagram& diagram = condition_.diagram_;
    for (unsigned lane = 0; lane < lanes_a_word; ++lane) {
        const std::uint64_t bit = std::uint64_t{1} << lane;
        for (std::uint32_t at = diagram.roots[0]; at >= Diagram::first_node;) {
            const std::size_t number = at - Diagram::first_node;
            const Diagram::Node& node = diagram.nodes[number];
            const bool holds = static_cast<double>(random() >> 11) * unit < high_[number];
            std::uint64_t& word = leaf_words[condition_.leaf_[node.leaf]];
            word = holds ? word | bit : word & ~bit;
            at = holds ? node.high : node.low;
        }
    }
}

}  // namespace saggar::weighing
