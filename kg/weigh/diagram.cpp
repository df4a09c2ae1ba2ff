#include "kg/weigh/diagram.h"

namespace saggar::weighing {

std::vector<double> Diagram::values(std::span<const double> chances) const {
    std::vector<double> value(nodes.size() + first_node);
    value[no] = 0;
    value[yes] = 1;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const double p = chances[nodes[i].leaf];
        value[i + first_node] = (1 - p) * value[nodes[i].low] + p * value[nodes[i].high];
    }
    return value;
}

void Diagram::add_slopes(std::span<const double> chances, std::span<const double> values, std::uint32_t root,
                         double weight, std::span<double> slopes) const {
    std::vector<double> reach(root + 1, 0.0);  // how likely the walk from the root comes by
    reach[root] = weight;
    for (std::uint32_t at = root; at >= first_node; --at) {
        if (reach[at] == 0) continue;
        const Node& node = nodes[at - first_node];
        const double p = chances[node.leaf];
        slopes[node.leaf] += reach[at] * (values[node.high] - values[node.low]);
        reach[node.low] += reach[at] * (1 - p);
        reach[node.high] += reach[at] * p;
    }
}

}  // namespace saggar::weighing
