// Published figures for networks of independent parts, at the level of the engine.
#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <string>

#include "kg/weigh/figures.h"

using namespace saggar::weighing;

namespace {

// A network whose edges hold by chance; asks whether one node can be reached from another.
class Network {
public:
    void edge(const std::string& from, const std::string& to, double chance) {
        const Event event = lineage_.chance(chance);
        edges_.push_back({from, to, event});
    }
    void both_ways(const std::string& a, const std::string& b, double chance) {
        const Event event = lineage_.chance(chance);
        edges_.push_back({a, b, event});
        edges_.push_back({b, a, event});
    }
    // Least fixpoint by rounds: after n rounds every walk of n steps is in.
    Event reached(const std::string& from, const std::string& to) {
        std::map<std::string, Event> at;
        const auto known = [&](const std::string& node) { return at.count(node) ? at[node] : Event::never(); };
        at[from] = Event::always();
        for (std::size_t round = 0; round < edges_.size(); ++round) {
            auto next = at;
            for (const Edge& edge : edges_) {
                next[edge.to] = lineage_.either(next.count(edge.to) ? next[edge.to] : Event::never(),
                                                lineage_.both(known(edge.from), edge.holds));
            }
            at = next;
        }
        return known(to);
    }
    double reliability(const std::string& from, const std::string& to) { return figures(from, to).values(lineage_.chances())[0]; }
    std::vector<double> slopes(const std::string& from, const std::string& to) {
        return figures(from, to).slopes(lineage_.chances())[0];
    }

private:
    struct Edge {
        std::string from, to;
        Event holds;
    };
    Figures figures(const std::string& from, const std::string& to) {
        const Event roots[] = {reached(from, to)};
        return Figures(lineage_, roots, 200'000);
    }

    Lineage lineage_;
    std::vector<Edge> edges_;
};

Network bridge(double p) {
    Network network;
    network.both_ways("s", "a", p);
    network.both_ways("s", "b", p);
    network.both_ways("a", "b", p);
    network.both_ways("a", "t", p);
    network.both_ways("b", "t", p);
    return network;
}

}  // namespace

TEST_CASE("the five-edge bridge has its published reliability", "[reliability]") {
    // Barlow and Proschan, Statistical Theory of Reliability and Life Testing (1975): 2p^2 + 2p^3 - 5p^4 + 2p^5.
    for (const double p : {.1, .25, .5, .75, .9, .99}) {
        const double expected = 2 * std::pow(p, 2) + 2 * std::pow(p, 3) - 5 * std::pow(p, 4) + 2 * std::pow(p, 5);
        CHECK(bridge(p).reliability("s", "t") == Approx(expected).epsilon(1e-12));
    }
    CHECK(bridge(.9).reliability("s", "t") == Approx(.97848).epsilon(1e-9));
}

TEST_CASE("the slopes of the bridge are Birnbaum's", "[reliability]") {
    // Birnbaum, "On the importance of different components in a multicomponent system" (1969); at .9 the outer edges
    // .1062, the middle one .0162 (computed from the reliability polynomial by conditioning on each edge).
    const auto slopes = bridge(.9).slopes("s", "t");
    for (const std::size_t outer : {0, 1, 3, 4}) CHECK(slopes[outer] == Approx(.1062).epsilon(1e-9));
    CHECK(slopes[2] == Approx(.0162).epsilon(1e-9));
}

TEST_CASE("a directed graph of seven edges, from the test suite of ProbLog", "[reliability]") {
    // ProbLog (De Raedt, Kimmig, Toivonen 2007), test suite, "graph" examples.
    Network network;
    network.edge("1", "2", .6);
    network.edge("1", "3", .1);
    network.edge("2", "5", .4);
    network.edge("2", "6", .3);
    network.edge("3", "4", .3);
    network.edge("4", "5", .8);
    network.edge("5", "6", .2);
    CHECK(network.reliability("1", "5") == Approx(.25824).epsilon(1e-9));
    CHECK(network.reliability("1", "6") == Approx(.2167296).epsilon(1e-9));
}

TEST_CASE("a path problem from the examples of cplint", "[reliability]") {
    // cplint (Riguzzi), example "path": edges a-b .2, b-e .5, a-c .3, c-d .4, d-e .4, a-e .1; path(a, e) = .22888.
    Network network;
    network.edge("a", "b", .2);
    network.edge("b", "e", .5);
    network.edge("a", "c", .3);
    network.edge("c", "d", .4);
    network.edge("d", "e", .4);
    network.edge("a", "e", .1);
    CHECK(network.reliability("a", "e") == Approx(.22888).epsilon(1e-9));
}

TEST_CASE("k out of n equal parts", "[reliability]") {
    // Binomial sums, as in any table; 2 out of 3 at .9 is .972, 3 out of 5 at .9 is .99144 (standard tables).
    for (const auto& [n, k, p, expected] : {std::tuple{3, 2, .9, .972}, std::tuple{5, 3, .9, .99144}}) {
        Lineage lineage;
        std::vector<Event> parts;
        for (int i = 0; i < n; ++i) parts.push_back(lineage.chance(p));
        // holds[j]: at least j of the parts so far
        std::vector<Event> holds(static_cast<std::size_t>(k) + 1, Event::never());
        holds[0] = Event::always();
        for (const Event part : parts) {
            for (std::size_t j = holds.size(); j-- > 1;) holds[j] = lineage.either(holds[j], lineage.both(holds[j - 1], part));
        }
        const Event roots[] = {holds.back()};
        CHECK(Figures(lineage, roots, 200'000).values(lineage.chances())[0] == Approx(expected).epsilon(1e-12));
    }
}
