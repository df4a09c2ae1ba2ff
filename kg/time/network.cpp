#include "kg/time/network.h"

#include <algorithm>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/property_map/function_property_map.hpp>

#include "kg/time/network_graph.h"

namespace saggar::time {

void TimeNetwork::limit(TimePoint from, TimePoint to, std::int64_t at_most, TimeLabel label) {
    if (at_most > longest_time) return;
    limits_.push_back({from, to, std::max(at_most, -longest_time), label});
}

void TimeNetwork::limit_to(TimePoint point, std::int64_t earliest, std::int64_t latest, TimeLabel label) {
    limit(origin, point, latest, label);
    if (earliest >= -longest_time) limit(point, origin, -earliest, label);
}

namespace {

class RememberWay : public boost::dijkstra_visitor<> {
public:
    explicit RememberWay(std::vector<std::uint32_t>& last) : last_(&last) {}
    void edge_relaxed(boost::graph_traits<NetworkGraph>::edge_descriptor edge, const NetworkGraph& graph) const {
        (*last_)[boost::target(edge, graph)] = graph[edge].limit;
    }

private:
    std::vector<std::uint32_t>* last_;
};

std::vector<std::int64_t> negated(const std::vector<std::int64_t>& numbers) {
    std::vector<std::int64_t> turned(numbers.size());
    std::transform(numbers.begin(), numbers.end(), turned.begin(), [](std::int64_t number) { return -number; });
    return turned;
}

}  // namespace

Ways ways_from(TimePoint start, const NetworkGraph& graph, const std::vector<std::int64_t>& potential) {
    const auto index = boost::get(boost::vertex_index, graph);
    const auto shifted_weight = [&](const boost::graph_traits<NetworkGraph>::edge_descriptor& edge) {
        return graph[edge].weight + potential[boost::source(edge, graph)] - potential[boost::target(edge, graph)];
    };
    Ways ways{std::vector<std::int64_t>(potential.size(), no_latest),
              std::vector<std::uint32_t>(potential.size(), none_limit)};
    boost::dijkstra_shortest_paths(
        graph, start,
        boost::weight_map(
            boost::make_function_property_map<boost::graph_traits<NetworkGraph>::edge_descriptor, std::int64_t>(
                shifted_weight))
            .distance_map(boost::make_iterator_property_map(ways.length.begin(), index))
            .distance_inf(no_latest)
            .visitor(RememberWay(ways.last)));
    for (std::size_t point = 0; point < potential.size(); ++point) {
        if (ways.length[point] != no_latest) ways.length[point] += potential[point] - potential[start];
    }
    return ways;
}

TimeSolution solve_times(const TimeNetwork& network) {
    TimeSolution solution;
    const auto graph = graph_of_all(network);
    const Potentials found = find_potentials(network, graph);
    if (!found.negative_cycle.empty()) {
        solution.consistent = false;
        solution.contradiction = minimal_contradiction(network, found.negative_cycle);
        return solution;
    }
    Ways forth = ways_from(TimeNetwork::origin, graph, found.potential);
    Ways back = ways_from(TimeNetwork::origin,
                          changed_graph(
                              graph, [](auto point) { return point; }, true),
                          negated(found.potential));
    solution.ranges.resize(network.points());
    for (std::size_t point = 0; point < solution.ranges.size(); ++point) {
        if (forth.length[point] != no_latest) solution.ranges[point].latest = forth.length[point];
        if (back.length[point] != no_latest) solution.ranges[point].earliest = -back.length[point];
    }
    solution.last_limit_of_latest = std::move(forth.last);
    solution.last_limit_of_earliest = std::move(back.last);
    return solution;
}

std::vector<std::uint32_t> TimeSolution::chain_of_latest(const TimeNetwork& network, TimePoint point) const {
    std::vector<std::uint32_t> chain;
    while (point != TimeNetwork::origin && last_limit_of_latest[point] != none_limit) {
        chain.push_back(last_limit_of_latest[point]);
        point = network.limits()[chain.back()].from;
    }
    std::reverse(chain.begin(), chain.end());
    return chain;
}

std::vector<std::uint32_t> TimeSolution::chain_of_earliest(const TimeNetwork& network, TimePoint point) const {
    std::vector<std::uint32_t> chain;
    while (point != TimeNetwork::origin && last_limit_of_earliest[point] != none_limit) {
        chain.push_back(last_limit_of_earliest[point]);
        point = network.limits()[chain.back()].to;
    }
    std::reverse(chain.begin(), chain.end());
    return chain;
}

}  // namespace saggar::time
