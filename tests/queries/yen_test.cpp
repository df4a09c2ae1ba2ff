#include "queries/yen.h"

#include <catch2/catch.hpp>
#include <random>
#include <sstream>

#include "tests/python_reference.h"

using namespace saggar;

namespace {

// A plain weighted graph; vertices may share places. Used as the graph that is searched and by the slow twin.
struct PlainSpace {
    std::vector<std::vector<ChainEdge>> edges;
    std::vector<std::uint32_t> places;
    std::set<ChainVertex> goals;
    std::vector<double> bounds;

    explicit PlainSpace(std::size_t count) : edges(count), bounds(count, 0) {
        for (std::uint32_t i = 0; i < count; ++i) places.push_back(i);
    }
    void add(ChainVertex from, ChainVertex to, double weight) { edges[from].push_back({to, weight}); }

    std::span<const ChainEdge> out(ChainVertex vertex) { return edges[vertex]; }
    std::uint32_t place(ChainVertex vertex) const { return places[vertex]; }
    bool is_goal(ChainVertex vertex) const { return goals.count(vertex) != 0; }
    double bound(ChainVertex vertex) const { return bounds[vertex]; }

    // Exact distances to the nearest goal, by relaxing every edge often enough (Bellman 1958).
    void set_exact_bounds() {
        bounds.assign(edges.size(), std::numeric_limits<double>::infinity());
        for (const ChainVertex goal : goals) bounds[goal] = 0;
        for (std::size_t round = 0; round < edges.size(); ++round)
            for (std::size_t v = 0; v < edges.size(); ++v)
                for (const ChainEdge& e : edges[v]) bounds[v] = std::min(bounds[v], e.weight + bounds[e.target]);
    }
};

std::vector<double> weights(const YenResult& result) {
    std::vector<double> out;
    for (const ChainWay& way : result.ways) out.push_back(way.weight);
    return out;
}

std::string letters(const ChainWay& way) {
    std::string out;
    for (const ChainVertex v : way.vertices) out += static_cast<char>('C' + v);
    return out;
}

// The published example: C-D 3, C-E 2, D-F 4, E-D 1, E-F 2, E-G 3, F-G 2, F-H 1, G-H 2.
PlainSpace published() {
    PlainSpace space(6);
    const auto add = [&space](char from, char to, double weight) {
        space.add(static_cast<ChainVertex>(from - 'C'), static_cast<ChainVertex>(to - 'C'), weight);
    };
    add('C', 'D', 3);
    add('C', 'E', 2);
    add('D', 'F', 4);
    add('E', 'D', 1);
    add('E', 'F', 2);
    add('E', 'G', 3);
    add('F', 'G', 2);
    add('F', 'H', 1);
    add('G', 'H', 2);
    space.goals = {'H' - 'C'};
    return space;
}

// The slow twin: every way to a goal that passes no place twice, by trying all.
void all_ways(PlainSpace& space, std::vector<ChainVertex>& way, double weight, std::vector<double>& out) {
    const ChainVertex at = way.back();
    if (way.size() > 1 && space.is_goal(at)) out.push_back(weight);
    for (const ChainEdge& edge : space.out(at)) {
        bool seen = false;
        for (const ChainVertex v : way) seen = seen || space.place(v) == space.place(edge.target);
        if (seen) continue;
        way.push_back(edge.target);
        all_ways(space, way, weight + edge.weight, out);
        way.pop_back();
    }
}

PlainSpace random_space(std::mt19937& random, std::size_t vertices, std::size_t edges, std::size_t places) {
    PlainSpace space(vertices);
    const auto draw = [&random](std::size_t below) { return static_cast<std::uint32_t>(random() % below); };
    for (std::size_t i = 0; i < edges; ++i) {
        const auto from = draw(vertices);
        const auto to = draw(vertices);
        const auto weight = draw(8);
        space.add(from, to, weight);
    }
    if (places < vertices) {
        for (auto& place : space.places) place = draw(places);
    }
    const auto goals = 1 + draw(2);
    for (std::uint32_t i = 0; i < goals; ++i) space.goals.insert(draw(vertices));
    return space;
}

}  // namespace

TEST_CASE("the published example gives 5, 7, 8", "[yen]") {
    // Known answer as commonly printed for Yen's algorithm; the third rank is a tie of three ways.
    PlainSpace space = published();
    for (const bool guided : {false, true}) {
        if (guided) space.set_exact_bounds();
        YenLimits limits;
        limits.best = 3;
        CHECK(weights(best_ways(space, 0, limits)) == std::vector<double>{5, 7, 8});
        limits.ties = 5;
        const YenResult with_ties = best_ways(space, 0, limits);
        CHECK(weights(with_ties) == std::vector<double>{5, 7, 8, 8, 8});
        CHECK(letters(with_ties.ways[0]) == "CEFH");
        CHECK(letters(with_ties.ways[1]) == "CEGH");
        CHECK(with_ties.complete);
        limits.best = 100;
        CHECK(weights(best_ways(space, 0, limits)) == std::vector<double>{5, 7, 8, 8, 8, 11, 11});
    }
}

TEST_CASE("a way has at least one step, and may go on beyond a goal", "[yen]") {
    PlainSpace space(3);
    space.add(0, 1, 1);
    space.add(1, 2, 1);
    space.add(2, 0, 1);
    space.goals = {0, 1, 2};
    YenLimits limits;
    limits.best = 9;
    const YenResult beyond = best_ways(space, 0, limits, true);
    REQUIRE(beyond.ways.size() == 2);
    CHECK(beyond.ways[0].vertices == std::vector<ChainVertex>{0, 1});
    CHECK(beyond.ways[1].vertices == std::vector<ChainVertex>{0, 1, 2});
    CHECK(best_ways(space, 0, limits, false).ways.size() == 1);
}

TEST_CASE("edges side by side are ways of their own", "[yen]") {
    PlainSpace space(2);
    space.add(0, 1, 2);
    space.add(0, 1, 1);
    space.goals = {1};
    YenLimits limits;
    limits.best = 5;
    CHECK(weights(best_ways(space, 0, limits)) == std::vector<double>{1, 2});
}

TEST_CASE("the ways equal those of the slow twin", "[yen]") {
    std::mt19937 random(20260101);
    for (int round = 0; round < 600; ++round) {
        const std::size_t vertices = 2 + random() % 6;
        const std::size_t edges = random() % (3 * vertices);
        const std::size_t places = round % 2 ? vertices : 1 + random() % vertices;
        PlainSpace space = random_space(random, vertices, edges, places);
        std::vector<ChainVertex> way{0};
        std::vector<double> expected;
        all_ways(space, way, 0, expected);
        std::sort(expected.begin(), expected.end());
        if (round % 3 == 0) space.set_exact_bounds();
        YenLimits limits;
        limits.best = 10000;
        INFO("round " << round);
        const YenResult all = best_ways(space, 0, limits);
        CHECK(all.complete);
        CHECK(weights(all) == expected);
        limits.best = 1 + random() % 4;
        if (expected.size() > limits.best) expected.resize(limits.best);
        CHECK(weights(best_ways(space, 0, limits)) == expected);
    }
}

TEST_CASE("a limit is said", "[yen]") {
    PlainSpace space = published();
    YenLimits limits;
    limits.best = 10;
    limits.searches = 2;
    CHECK_FALSE(best_ways(space, 0, limits).complete);
    limits.searches = 1000;
    limits.settled = 5;
    CHECK_FALSE(best_ways(space, 0, limits).complete);
}

TEST_CASE("the ways equal those of a reference library", "[yen]") {
    // python3-networkx (Debian 12: 2.8.8), shortest_simple_paths, which implements Yen's algorithm on simple digraphs.
    std::mt19937 random(7);
    std::ostringstream graphs;
    std::vector<std::vector<double>> ours;
    for (int round = 0; round < 20; ++round) {
        const std::size_t vertices = 30;
        std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> edges;
        for (int i = 0; i < 90; ++i) {
            const auto from = static_cast<std::uint32_t>(random() % vertices);
            const auto to = static_cast<std::uint32_t>(random() % vertices);
            const auto weight = static_cast<std::uint32_t>(1 + random() % 9);
            if (from != to) edges[{from, to}] = weight;
        }
        PlainSpace space(vertices);
        for (const auto& edge : edges) {
            space.add(edge.first.first, edge.first.second, edge.second);
            graphs << edge.first.first << ',' << edge.first.second << ',' << edge.second << ' ';
        }
        graphs << '\n';
        space.goals = {1};
        if (round % 2) space.set_exact_bounds();
        YenLimits limits;
        limits.best = 15;
        ours.push_back(weights(best_ways(space, 0, limits, false)));
    }
    const std::string script =
        "import sys, networkx as nx\n"
        "from itertools import islice\n"
        "for line in open(sys.argv[1]):\n"
        "    g = nx.DiGraph(); g.add_nodes_from(range(30))\n"
        "    for e in line.split():\n"
        "        a, b, w = map(int, e.split(',')); g.add_edge(a, b, weight=w)\n"
        "    try: ways = list(islice(nx.shortest_simple_paths(g, 0, 1, weight='weight'), 15))\n"
        "    except nx.NetworkXNoPath: ways = []\n"
        "    print(' '.join(str(sum(g[a][b]['weight'] for a, b in zip(w, w[1:]))) for w in ways))\n";
    if (!test::python_has("networkx")) {
        WARN("python3-networkx is not installed: the comparison with it was left out");
        return;
    }
    const std::optional<std::string> answer = test::run_python(script, graphs.str());
    REQUIRE(answer);
    std::istringstream lines(*answer);
    std::string line;
    std::size_t compared = 0;
    for (const std::vector<double>& expected : ours) {
        REQUIRE(std::getline(lines, line));
        std::istringstream numbers(line);
        std::vector<double> theirs;
        for (double value; numbers >> value;) theirs.push_back(value);
        CHECK(theirs == expected);
        compared += theirs.size();
    }
    CHECK(compared > 100);
}
