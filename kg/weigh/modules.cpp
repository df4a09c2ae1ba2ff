#include "kg/weigh/modules.h"

#include <algorithm>
#include <unordered_map>

namespace saggar::weighing {

namespace {

struct Dates {
    std::uint32_t first = 0, left = 0, last = 0;  // 0: not met
    std::uint32_t below_first = 0xFFFFFFFF, below_last = 0;
};

// Walks from the roots and dates every visit. Own stack: depth comes from user data.
class ModuleFinder {
public:
    ModuleFinder(const Lineage& lineage, std::span<const Event> roots, std::span<const char> decided)
        : lineage_(lineage), decided_(decided), dates_(lineage.nodes()) {
        for (const Event root : roots) walk(root.node());
        for (const std::uint32_t node : left_order_) look_below(node);
    }

    bool is_module(std::uint32_t node) const {
        const Dates& its = dates_[node];
        return its.below_first > its.first && its.below_last < its.left;
    }
    // Gates in the order in which the walk left them: children before parents.
    const std::vector<std::uint32_t>& gates() const { return left_order_; }

private:
    struct Frame {
        std::uint32_t node = 0;
        std::size_t next = 0;
    };

    void walk(std::uint32_t root) {
        enter(root);
        while (!stack_.empty()) {
            Frame& frame = stack_.back();
            const auto inputs = lineage_.inputs(frame.node);
            if (frame.next < inputs.size()) {
                enter(inputs[frame.next++].node());
                continue;
            }
            dates_[frame.node].left = dates_[frame.node].last = ++clock_;
            left_order_.push_back(frame.node);
            stack_.pop_back();
        }
    }

    void enter(std::uint32_t node) {
        Dates& its = dates_[node];
        its.last = ++clock_;
        if (its.first != 0) return;
        its.first = its.last;
        its.left = its.last;
        if (!lineage_.inputs(node).empty()) stack_.push_back({node, 0});
    }

    void look_below(std::uint32_t node) {
        Dates& its = dates_[node];
        for (const Event input : lineage_.inputs(node)) {
            if (is_decided(input.node())) continue;
            const Dates& child = dates_[input.node()];
            its.below_first = std::min({its.below_first, child.first, child.below_first});
            its.below_last = std::max({its.below_last, child.last, child.below_last});
        }
    }

    bool is_decided(std::uint32_t node) const {
        return !decided_.empty() && lineage_.is_variable(node) && decided_[lineage_.variable(node)];
    }

    const Lineage& lineage_;
    std::span<const char> decided_;
    std::vector<Dates> dates_;
    std::vector<Frame> stack_;
    std::vector<std::uint32_t> left_order_;
    std::uint32_t clock_ = 0;
};

// When a walk over the given events first meets each variable; of a gate: the first one below it that is not decided.
class Ranks {
public:
    Ranks(const Lineage& lineage, std::span<const Event> order, std::span<const Event> roots, std::span<const char> decided)
        : lineage_(lineage), decided_(decided), rank_(lineage.nodes(), not_met), met_(lineage.nodes(), 0) {
        for (const Event event : order) walk(event.node());
        for (const Event event : roots) walk(event.node());
    }
    std::uint32_t of(std::uint32_t node) const { return rank_[node]; }

private:
    static constexpr std::uint32_t not_met = 0xFFFFFFFF;

    bool is_decided(std::uint32_t node) const {
        return !decided_.empty() && lineage_.is_variable(node) && decided_[lineage_.variable(node)];
    }

    void walk(std::uint32_t root) {
        std::vector<std::pair<std::uint32_t, std::size_t>> stack;
        const auto enter = [&](std::uint32_t node) {
            if (met_[node]) return;
            met_[node] = 1;
            if (lineage_.is_variable(node)) rank_[node] = next_++;
            stack.emplace_back(node, 0);
        };
        enter(root);
        while (!stack.empty()) {
            auto& [node, next] = stack.back();
            const auto inputs = lineage_.inputs(node);
            if (next < inputs.size()) {
                enter(inputs[next++].node());
                continue;
            }
            for (const Event input : inputs) {
                if (!is_decided(input.node())) rank_[node] = std::min(rank_[node], rank_[input.node()]);
            }
            stack.pop_back();
        }
    }

    const Lineage& lineage_;
    std::span<const char> decided_;
    std::vector<std::uint32_t> rank_;
    std::vector<char> met_;
    std::uint32_t next_ = 0;
};

// Cuts one piece: what the given events reach without entering a module.
class PieceCutter {
public:
    PieceCutter(const Lineage& lineage, const Ranks& ranks, const std::unordered_map<std::uint32_t, std::uint32_t>& piece_of)
        : lineage_(lineage), ranks_(ranks), piece_of_(piece_of) {}

    // The piece of a module: its gate is the root.
    Piece cut_module(std::uint32_t gate) {
        top_ = gate;
        return cut(std::vector<Event>{Event::of(gate)});
    }
    Piece cut(std::span<const Event> roots) {
        for (const Event root : roots) reach(root.node());
        std::stable_sort(leaves_.begin(), leaves_.end(), [&](std::uint32_t a, std::uint32_t b) { return ranks_.of(a) < ranks_.of(b); });
        for (const std::uint32_t leaf : leaves_) add_leaf(leaf);
        for (const std::uint32_t gate : gates_) add_gate(gate);
        for (const Event root : roots) piece_.circuit.roots.push_back(local(root));
        return std::move(piece_);
    }

private:
    bool is_leaf(std::uint32_t node) const {
        return lineage_.is_variable(node) || (node != top_ && piece_of_.count(node) != 0);
    }

    // Collects leaves, and gates in leaving order.
    void reach(std::uint32_t root) {
        std::vector<std::pair<std::uint32_t, std::size_t>> stack;
        const auto enter = [&](std::uint32_t node) {
            if (node == 0 || !index_.emplace(node, 0).second) return;
            if (is_leaf(node)) {
                leaves_.push_back(node);
            } else {
                stack.emplace_back(node, 0);
            }
        };
        enter(root);
        while (!stack.empty()) {
            auto& [node, next] = stack.back();
            const auto inputs = lineage_.inputs(node);
            if (next < inputs.size()) {
                enter(inputs[next++].node());
            } else {
                gates_.push_back(node);
                stack.pop_back();
            }
        }
    }

    void add_leaf(std::uint32_t node) {
        const bool variable = lineage_.is_variable(node);
        piece_.leaves.push_back({!variable, variable ? lineage_.variable(node) : piece_of_.at(node)});
        index_[node] = static_cast<std::uint32_t>(piece_.leaves.size());
        piece_.circuit.leaves = static_cast<std::uint32_t>(piece_.leaves.size());
    }

    void add_gate(std::uint32_t gate) {
        Circuit& circuit = piece_.circuit;
        for (const Event input : lineage_.inputs(gate)) circuit.inputs.push_back(local(input));
        circuit.gate_end.push_back(static_cast<std::uint32_t>(circuit.inputs.size()));
        index_[gate] = circuit.gate_index(circuit.gates() - 1);
    }

    Event local(Event event) const {
        return event.node() == 0 ? event : Event::of(index_.at(event.node()), event.negated());
    }

    const Lineage& lineage_;
    const Ranks& ranks_;
    const std::unordered_map<std::uint32_t, std::uint32_t>& piece_of_;
    std::uint32_t top_ = 0;
    std::unordered_map<std::uint32_t, std::uint32_t> index_;
    std::vector<std::uint32_t> leaves_;
    std::vector<std::uint32_t> gates_;
    Piece piece_;
};

}  // namespace

std::vector<Piece> cut_into_pieces(const Lineage& lineage, std::span<const Event> roots, std::span<const char> decided,
                                   std::span<const Event> order) {
    const Ranks ranks(lineage, order, roots, decided);
    const ModuleFinder finder(lineage, roots, decided);
    std::vector<Piece> pieces;
    std::unordered_map<std::uint32_t, std::uint32_t> piece_of;
    for (const std::uint32_t gate : finder.gates()) {
        if (!finder.is_module(gate)) continue;
        pieces.push_back(PieceCutter(lineage, ranks, piece_of).cut_module(gate));
        piece_of.emplace(gate, static_cast<std::uint32_t>(pieces.size() - 1));
    }
    pieces.push_back(PieceCutter(lineage, ranks, piece_of).cut(roots));
    return pieces;
}

}  // namespace saggar::weighing
