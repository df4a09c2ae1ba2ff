// A decision diagram over independent chances, laid flat: its probability and all its slopes in one pass each.
//
// The diagram is what remains of a lineage once BuDDy (bdd.h) or a truth table (truth_table.h) has worked it out. It is
// plain data: to ask again with other chances is one walk over the nodes, and any thread may do it.
//
// Cost: linear in the nodes. The probability is multilinear in the chances, so the slope of a chance is the difference
// between the figure with that chance at 1 and at 0 (Birnbaum 1969), and one pass backwards gives all of them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace saggar::weighing {

struct Diagram {
    struct Node {
        std::uint32_t leaf = 0;  // which chance is looked at
        std::uint32_t low = 0;   // where to go when it fails
        std::uint32_t high = 0;  // where to go when it holds
    };
    static constexpr std::uint32_t no = 0, yes = 1, first_node = 2;  // targets 0 and 1 are the answers

    std::vector<Node> nodes;           // node i has index i + first_node; children have smaller indices
    std::vector<std::uint32_t> roots;  // one per function; all functions share the nodes

    // The probability of reaching "yes" from every index, into `value`. `chances` is indexed by leaf. V: double or Lanes.
    template <class V>
    void values(const std::vector<V>& chances, std::vector<V>& value) const {
        value.resize(nodes.size() + first_node);
        value[no] = V(0);
        value[yes] = V(1);
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            const V& p = chances[nodes[i].leaf];
            value[i + first_node] = (V(1) - p) * value[nodes[i].low] + p * value[nodes[i].high];
        }
    }

    // Adds weight * d(value of root)/d(chance) to `slopes` for every leaf. `values` is what values() gave; `reach` is scratch.
    template <class V>
    void add_slopes(const std::vector<V>& chances, const std::vector<V>& values, std::uint32_t root, const V& weight,
                    std::vector<V>& slopes, std::vector<V>& reach) const {
        reach.assign(root + 1, V(0));  // how likely the walk from the root comes by
        reach[root] = weight;
        for (std::uint32_t at = root; at >= first_node; --at) {
            const Node& node = nodes[at - first_node];
            const V& p = chances[node.leaf];
            slopes[node.leaf] += reach[at] * (values[node.high] - values[node.low]);
            reach[node.low] += reach[at] * (V(1) - p);
            reach[node.high] += reach[at] * p;
        }
    }
};

}  // namespace saggar::weighing
