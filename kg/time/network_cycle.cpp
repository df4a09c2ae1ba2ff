// Bellman-Ford in short runs: after each run, a cycle among the last limits that improved a point is a negative cycle,
// so that a contradiction is found long before the last of the rounds. Deletion then leaves only the labels that are
// needed.
#include <algorithm>
#include <boost/graph/bellman_ford_shortest_paths.hpp>

#include "kg/time/network_graph.h"

namespace saggar::time {

namespace {

using NetworkEdgeId = boost::graph_traits<NetworkGraph>::edge_descriptor;

// Remembers by which limit each point was last improved.
template <class Iterator>
class RememberLimits : public boost::bellman_visitor<> {
public:
    explicit RememberLimits(Iterator last) : last_(last) {}
    void edge_relaxed(NetworkEdgeId edge, const NetworkGraph& graph) const {
        last_[static_cast<std::ptrdiff_t>(boost::target(edge, graph))] = graph[edge].limit;
    }

private:
    Iterator last_;
};

// A few rounds over the edges in the order of their points. True: nothing changes any more.
template <class Potential, class Last>
bool run_rounds(const NetworkGraph& graph, Potential potential, Last last) {
    constexpr std::size_t rounds_at_once = 3;
    return boost::bellman_ford_shortest_paths(
        graph, rounds_at_once, boost::get(&NetworkEdge::weight, graph), boost::dummy_property_map(),
        boost::make_iterator_property_map(potential, boost::get(boost::vertex_index, graph)), std::plus<std::int64_t>(),
        std::less<std::int64_t>(), RememberLimits<Last>(last));
}

// Follows the last limits backwards from every point; a point met twice on one walk lies on a cycle.
std::vector<std::uint32_t> cycle_among(const TimeNetwork& network, const std::vector<std::uint32_t>& last) {
    std::vector<std::uint32_t> walk_of(last.size(), 0);  // 0: not visited
    for (std::uint32_t start = 0; start < last.size(); ++start) {
        std::uint32_t point = start;
        while (walk_of[point] == 0 && last[point] != none_limit) {
            walk_of[point] = start + 1;
            point = network.limits()[last[point]].from;
        }
        if (last[point] == none_limit || walk_of[point] != start + 1) continue;
        std::vector<std::uint32_t> cycle;
        const std::uint32_t first = point;
        do {
            cycle.push_back(last[point]);
            point = network.limits()[last[point]].from;
        } while (point != first);
        std::reverse(cycle.begin(), cycle.end());
        return cycle;
    }
    return {};
}

bool is_in(const std::vector<TimeLabel>& sorted, TimeLabel label) {
    return std::binary_search(sorted.begin(), sorted.end(), label);
}

// A negative cycle among the limits with these labels and those that always hold.
std::vector<std::uint32_t> cycle_within(const TimeNetwork& network, const std::vector<TimeLabel>& labels) {
    const auto graph = graph_of(
        network, [&labels](const TimeLimit& limit) { return limit.label == always || is_in(labels, limit.label); });
    return find_potentials(network, graph).negative_cycle;
}

std::vector<TimeLabel> labels_of(const TimeNetwork& network, const std::vector<std::uint32_t>& limits) {
    std::vector<TimeLabel> labels;
    for (const std::uint32_t limit : limits) {
        if (network.limits()[limit].label != always) labels.push_back(network.limits()[limit].label);
    }
    std::sort(labels.begin(), labels.end());
    labels.erase(std::unique(labels.begin(), labels.end()), labels.end());
    return labels;
}

}  // namespace

Potentials find_potentials(const TimeNetwork& network, const NetworkGraph& graph) {
    const std::size_t points = boost::num_vertices(graph);
    Potentials found;
    found.potential.assign(points, 0);
    std::vector<std::uint32_t> last(points, none_limit);
    const auto downwards = changed_graph(
        graph, [points](auto point) { return points - 1 - point; }, false);
    for (bool upwards = true;; upwards = !upwards) {
        const bool settled = upwards ? run_rounds(graph, found.potential.begin(), last.begin())
                                     : run_rounds(downwards, found.potential.rbegin(), last.rbegin());
        if (settled) return found;
        found.negative_cycle = cycle_among(network, last);
        if (!found.negative_cycle.empty()) return found;
    }
}

// A smaller set found on the way (the labels of a new cycle) is taken over at once. A label once found to be needed
// stays needed in every smaller set, so the first `i` labels stay where they are.
std::vector<TimeLabel> minimal_contradiction(const TimeNetwork& network, const std::vector<std::uint32_t>& cycle) {
    std::vector<TimeLabel> needed = labels_of(network, cycle);
    for (std::size_t i = 0; i < needed.size();) {
        std::vector<TimeLabel> fewer = needed;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
        const auto smaller = cycle_within(network, fewer);
        if (smaller.empty()) {
            ++i;
        } else {
            needed = labels_of(network, smaller);
        }
    }
    return needed;
}

}  // namespace saggar::time
