// Algorithms of Boost.Graph on the view and on the compact copy, against a plain twin and against a reference library.
#include "kg/graph/csr.h"

#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/graph/reverse_graph.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/property_map/function_property_map.hpp>
#include <catch2/catch.hpp>
#include <limits>
#include <nlohmann/json.hpp>
#include <queue>
#include <sstream>

#include "kg/graph/view.h"
#include "tests/kg/graph/random_graph.h"
#include "tests/python_reference.h"

using namespace saggar;
using testing::MapGraph;
using testing::RandomGraph;

namespace {

constexpr long unreached = -1;

long weight_of(std::uint64_t claim) { return 1 + static_cast<long>(claim * 7919 % 13); }

struct Answers {
    std::vector<long> hops;      // from the first vertex, by breadth
    std::vector<long> distance;  // from the first vertex, by weight
    std::vector<long> back;      // to the first vertex, by weight
    std::size_t components = 0;  // strong ones
    bool operator==(const Answers&) const = default;
};

template <class Graph>
std::vector<long> hops_from(GraphVertex start, const Graph& graph) {
    std::vector<long> hops(num_vertices(graph), unreached);
    hops[start] = 0;
    const auto record = boost::record_distances(hops.data(), boost::on_tree_edge());
    boost::breadth_first_search(graph, start, boost::visitor(boost::make_bfs_visitor(record)));
    return hops;
}

template <class Graph, class Weight>
std::vector<long> distances_from(GraphVertex start, const Graph& graph, Weight weight) {
    constexpr long infinity = std::numeric_limits<long>::max();
    std::vector<long> distance(num_vertices(graph), infinity);
    boost::dijkstra_shortest_paths(graph, start,
                                   boost::weight_map(weight).distance_map(distance.data()).distance_inf(infinity));
    for (long& d : distance)
        if (d == infinity) d = unreached;
    return distance;
}

template <class Graph>
Answers answers_of(const Graph& graph) {
    const auto weight = boost::make_function_property_map<GraphEdge, long>(
        [](const GraphEdge& edge) { return weight_of(edge.claim.number); });
    Answers answers;
    answers.hops = hops_from(0, graph);
    answers.distance = distances_from(0, graph, weight);
    const auto reversed = boost::make_reverse_graph(graph);
    using ReverseEdge = typename boost::graph_traits<decltype(reversed)>::edge_descriptor;
    const auto reverse_weight = boost::make_function_property_map<ReverseEdge, long>(
        [](const ReverseEdge& edge) { return weight_of(edge.underlying_descx.claim.number); });
    answers.back = distances_from(0, reversed, reverse_weight);
    std::vector<int> component(num_vertices(graph));
    answers.components = static_cast<std::size_t>(
        boost::strong_components(graph, boost::make_iterator_property_map(component.begin(), get(boost::vertex_index, graph))));
    return answers;
}

// The twin: relaxes all edges of the map until nothing changes (Bellman 1958).
std::vector<long> relaxed(const std::map<std::uint64_t, std::set<MapGraph::Edge>>& edges, std::size_t count, bool unit) {
    std::vector<long> distance(count, unreached);
    distance[0] = 0;
    for (bool changed = true; changed;) {
        changed = false;
        for (const auto& from : edges) {
            if (distance[from.first - 1] == unreached) continue;
            for (const MapGraph::Edge& edge : from.second) {
                const long through = distance[from.first - 1] + (unit ? 1 : weight_of(edge.claim));
                long& known = distance[edge.to - 1];
                if (known != unreached && known <= through) continue;
                known = through;
                changed = true;
            }
        }
    }
    return distance;
}

std::set<std::uint64_t> reached_from(const std::map<std::uint64_t, std::set<MapGraph::Edge>>& edges, std::uint64_t start) {
    std::set<std::uint64_t> seen{start};
    std::queue<std::uint64_t> queue;
    queue.push(start);
    while (!queue.empty()) {
        const auto found = edges.find(queue.front());
        queue.pop();
        if (found == edges.end()) continue;
        for (const MapGraph::Edge& edge : found->second)
            if (seen.insert(edge.to).second) queue.push(edge.to);
    }
    return seen;
}

Answers twin_answers(const MapGraph& graph, std::size_t count) {
    Answers answers;
    answers.hops = relaxed(graph.out, count, true);
    answers.distance = relaxed(graph.out, count, false);
    answers.back = relaxed(graph.in, count, false);
    // Two vertices are in one strong component when each reaches the other.
    std::set<std::set<std::uint64_t>> components;
    for (std::uint64_t v = 1; v <= count; ++v) {
        const std::set<std::uint64_t> ahead = reached_from(graph.out, v), behind = reached_from(graph.in, v);
        std::set<std::uint64_t> both;
        for (const std::uint64_t w : ahead)
            if (behind.count(w)) both.insert(w);
        components.insert(both);
    }
    answers.components = components.size();
    return answers;
}

}  // namespace

TEST_CASE("algorithms agree on view, compact copy and map", "[graph]") {
    for (const std::uint32_t seed : {11u, 12u, 13u, 14u}) {
        const RandomGraph made(seed, 50, 40 + 30 * (seed - 10));
        const GraphView view(made.snapshot());
        const GraphCsr csr(made.snapshot());
        const Answers expected = twin_answers(made.twin, num_vertices(csr));
        INFO("seed " << seed);
        CHECK(answers_of(csr) == expected);
        CHECK(answers_of(view) == expected);
    }
}

TEST_CASE("algorithms agree with a reference library", "[graph]") {
    // python3-networkx (Debian 12: 2.8.8).
    if (!test::python_has("networkx")) {
        WARN("python3-networkx is not installed: the comparison with it was left out");
        return;
    }
    const RandomGraph made(21, 300, 900);
    const GraphCsr csr(made.snapshot());
    const GraphView view(made.snapshot());
    std::ostringstream input;
    input << num_vertices(csr) << '\n';
    for (const auto& from : made.twin.out)
        for (const MapGraph::Edge& edge : from.second)
            input << from.first - 1 << ' ' << edge.to - 1 << ' ' << weight_of(edge.claim) << '\n';
    const std::string script =
        "import sys, json, networkx as nx\n"
        "lines = open(sys.argv[1]).read().split('\\n')\n"
        "n = int(lines[0]); g = nx.MultiDiGraph(); g.add_nodes_from(range(n))\n"
        "for l in lines[1:]:\n"
        "    if l: a, b, w = map(int, l.split()); g.add_edge(a, b, weight=w)\n"
        "row = lambda d: [d.get(v, -1) for v in range(n)]\n"
        "print(json.dumps({'hops': row(nx.single_source_shortest_path_length(g, 0)),\n"
        "  'distance': row(nx.single_source_dijkstra_path_length(g, 0)),\n"
        "  'back': row(nx.single_source_dijkstra_path_length(g.reverse(), 0)),\n"
        "  'components': nx.number_strongly_connected_components(g)}))\n";
    const std::optional<std::string> answer = test::run_python(script, input.str());
    REQUIRE(answer);
    const auto json = nlohmann::json::parse(*answer);
    Answers expected;
    expected.hops = json.at("hops").get<std::vector<long>>();
    expected.distance = json.at("distance").get<std::vector<long>>();
    expected.back = json.at("back").get<std::vector<long>>();
    expected.components = json.at("components").get<std::size_t>();
    CHECK(answers_of(csr) == expected);
    CHECK(answers_of(view) == expected);
}
