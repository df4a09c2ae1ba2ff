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
#include <span>
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

    // The probability of reaching "yes" from every index. `chances` is indexed by leaf.
    std::vector<double> values(std::span<const double> chances) const;

    // Adds weight * d(value of root)/d(chance) to `slopes` for every leaf. `values` is what values() gave.
    void add_slopes(std::span<const double> chances, std::span<const double> values, std::uint32_t root, double weight,
                    std::span<double> slopes) const;
};

}  // namespace saggar::weighing
