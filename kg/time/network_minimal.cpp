// All pairs by Johnson's algorithm: one Bellman-Ford pass, then Dijkstra from every point.
#include "kg/time/network_graph.h"

namespace saggar::time {

std::vector<std::int64_t> minimal_network(const TimeNetwork& network) {
    const auto graph = graph_of_all(network);
    const Potentials found = find_potentials(network, graph);
    if (!found.negative_cycle.empty()) return {};
    std::vector<std::int64_t> limits;
    limits.reserve(std::size_t{network.points()} * network.points());
    for (TimePoint point = 0; point < network.points(); ++point) {
        const Ways ways = ways_from(point, graph, found.potential);
        limits.insert(limits.end(), ways.length.begin(), ways.length.end());
    }
    return limits;
}

}  // namespace saggar::time
