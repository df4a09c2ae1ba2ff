// The network as a Boost graph, and the search for a negative cycle that its answers share. Included by network*.cpp
// only.
#pragma once

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <cstdint>
#include <utility>
#include <vector>

#include "kg/time/network.h"

namespace saggar::time {

struct NetworkEdge {
    std::int64_t weight = 0;
    std::uint32_t limit = 0;  // index into TimeNetwork::limits
};
using NetworkGraph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, NetworkEdge>;

inline constexpr std::uint32_t none_limit = UINT32_MAX;

// The limits that `keep` says yes to, as a graph.
template <class Keep>
NetworkGraph graph_of(const TimeNetwork& network, Keep keep) {
    std::vector<std::pair<TimePoint, TimePoint>> ends;
    std::vector<NetworkEdge> edges;
    for (std::uint32_t i = 0; i < network.limits().size(); ++i) {
        const TimeLimit& limit = network.limits()[i];
        if (!keep(limit)) continue;
        ends.emplace_back(limit.from, limit.to);
        edges.push_back({limit.at_most, i});
    }
    return NetworkGraph(boost::edges_are_unsorted_multi_pass, ends.begin(), ends.end(), edges.begin(),
                        network.points());
}
inline NetworkGraph graph_of_all(const TimeNetwork& network) {
    return graph_of(network, [](const TimeLimit&) { return true; });
}

// The same edges between renumbered points: point p becomes renumber(p). `turn`: every edge turned round.
template <class Renumber>
NetworkGraph changed_graph(const NetworkGraph& graph, Renumber renumber, bool turn) {
    std::vector<std::pair<TimePoint, TimePoint>> ends;
    std::vector<NetworkEdge> edges;
    for (auto range = boost::edges(graph); range.first != range.second; ++range.first) {
        const auto from = static_cast<TimePoint>(renumber(boost::source(*range.first, graph)));
        const auto to = static_cast<TimePoint>(renumber(boost::target(*range.first, graph)));
        ends.emplace_back(turn ? to : from, turn ? from : to);
        edges.push_back(graph[*range.first]);
    }
    return NetworkGraph(boost::edges_are_unsorted_multi_pass, ends.begin(), ends.end(), edges.begin(),
                        boost::num_vertices(graph));
}

// Potentials: potential[to] <= potential[from] + weight for every edge, when there is no negative cycle. Otherwise the
// limits of one negative cycle, in its order.
struct Potentials {
    std::vector<std::int64_t> potential;
    std::vector<std::uint32_t> negative_cycle;
};
Potentials find_potentials(const TimeNetwork& network, const NetworkGraph& graph);

// Shortest ways from one point, with the last limit of each. Weights are made non-negative by the potentials of this
// graph (D. B. Johnson, "Efficient algorithms for shortest paths in sparse networks", JACM 24, 1977), so that
// Dijkstra's algorithm applies.
struct Ways {
    std::vector<std::int64_t> length;  // no_latest: no way
    std::vector<std::uint32_t> last;   // none_limit: no way, or the start
};
Ways ways_from(TimePoint start, const NetworkGraph& graph, const std::vector<std::int64_t>& potential);

// Sorted labels of limits that contradict each other, none of which can be spared; `cycle` is any negative cycle.
std::vector<TimeLabel> minimal_contradiction(const TimeNetwork& network, const std::vector<std::uint32_t>& cycle);

}  // namespace saggar::time
