#include "kg/weigh/world_circuit.h"

namespace saggar::weighing {

// Puts the parts together: first all leaves, in the order in which the parts name them, then the gates, children first.
class PartsJoiner {
public:
    explicit PartsJoiner(const Figures& figures) : parts_(figures.parts_), index_(parts_.size()) {
        add_leaves();
        joined_.circuit.leaves = static_cast<std::uint32_t>(joined_.leaves.size());
        // Parts are numbered after those they rest on.
        for (std::size_t part = 0; part < parts_.size(); ++part) {
            if (!index_[part].empty()) add_gates(part);
        }
        for (const Event root : parts_.back().piece.circuit.roots) joined_.circuit.roots.push_back(translated(root, parts_.size() - 1));
    }

    WorldCircuit take() { return std::move(joined_); }

private:
    struct Frame {
        std::size_t part = 0;
        std::size_t next = 0;  // leaf to look at
    };

    bool open(Piece::Leaf leaf) const { return leaf.is_piece && !parts_[leaf.number].exact(); }

    // Own stack: how deep parts are nested comes from user data. A part is used in one place only.
    void add_leaves() {
        std::vector<Frame> stack;
        const auto enter = [&](std::size_t part) {
            index_[part].assign(1 + parts_[part].piece.leaves.size() + parts_[part].piece.circuit.gates(), Event::always());
            stack.push_back({part, 0});
        };
        enter(parts_.size() - 1);
        while (!stack.empty()) {
            const std::size_t part = stack.back().part, at = stack.back().next++;
            const auto& leaves = parts_[part].piece.leaves;
            if (at == leaves.size()) {
                stack.pop_back();
            } else if (open(leaves[at])) {
                enter(leaves[at].number);
            } else {
                joined_.leaves.push_back(leaves[at]);
                index_[part][at + 1] = Event::of(static_cast<std::uint32_t>(joined_.leaves.size()));
            }
        }
    }

    void add_gates(std::size_t part) {
        const Piece& piece = parts_[part].piece;
        for (std::size_t i = 0; i < piece.leaves.size(); ++i) {
            if (!open(piece.leaves[i])) continue;
            const std::size_t below = piece.leaves[i].number;
            index_[part][i + 1] = translated(parts_[below].piece.circuit.roots[0], below);
        }
        Circuit& circuit = joined_.circuit;
        for (std::size_t gate = 0; gate < piece.circuit.gates(); ++gate) {
            for (const Event input : piece.circuit.gate_inputs(gate)) circuit.inputs.push_back(translated(input, part));
            circuit.gate_end.push_back(static_cast<std::uint32_t>(circuit.inputs.size()));
            index_[part][piece.circuit.gate_index(gate)] = Event::of(circuit.gate_index(circuit.gates() - 1));
        }
    }

    Event translated(Event event, std::size_t part) const {
        const Event there = index_[part][event.node()];
        return event.negated() ? !there : there;
    }

    const std::vector<Figures::Part>& parts_;
    std::vector<std::vector<Event>> index_;  // per part and its own index: the event in the joined circuit
    WorldCircuit joined_;
};

WorldCircuit circuit_of_worlds(const Figures& figures) { return PartsJoiner(figures).take(); }

}  // namespace saggar::weighing
