// Published network figures through the weigher: edges are claims with one witness each, chains are the paths.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

class ClaimNetwork {
public:
    void edge(const std::string& from, const std::string& to, double chance) {
        const Claim claim = graph_.claim("replaced-by", "item:" + to, "item:" + from);
        const Evidence reading = graph_.witness(claim, chance);
        sources_[{from, to}] = reading.source;
        edges_.push_back({from, to, claim});
    }
    // All loopless directed paths, one claim a step; `both_ways` lets edges be walked backwards.
    JointWeight between(const std::string& from, const std::string& to, bool both_ways = false) {
        graph_.write();
        paths_.clear();
        walk(from, to, {from}, {}, both_ways);
        return graph_.joint(paths_);
    }
    double slope(const JointWeight& weight, const std::string& from, const std::string& to) {
        const EntityId source = graph_.snapshot().need(sources_.at({from, to}));
        for (const Influence& influence : weight.influence) {
            if (influence.source == source) return influence.slope;
        }
        return 0;
    }

private:
    struct Edge {
        std::string from, to;
        Claim claim;
    };
    void walk(const std::string& at, const std::string& to, std::vector<std::string> seen, std::vector<Claim> path, bool both_ways) {
        if (at == to) return paths_.push_back(path);
        for (const Edge& edge : edges_) {
            const bool backwards = both_ways && edge.to == at;
            if (edge.from != at && !backwards) continue;
            const std::string& next = edge.from == at ? edge.to : edge.from;
            if (std::find(seen.begin(), seen.end(), next) != seen.end()) continue;
            auto longer = seen;
            longer.push_back(next);
            auto steps = path;
            steps.push_back(edge.claim);
            walk(next, to, longer, steps, both_ways);
        }
    }

    SmallGraph graph_;
    std::vector<Edge> edges_;
    std::map<std::pair<std::string, std::string>, std::string> sources_;
    std::vector<std::vector<Claim>> paths_;
};

ClaimNetwork& with_bridge(ClaimNetwork& network, double p) {
    network.edge("s", "a", p);
    network.edge("s", "b", p);
    network.edge("a", "b", p);
    network.edge("a", "t", p);
    network.edge("b", "t", p);
    return network;
}

}  // namespace

TEST_CASE("the bridge as claims", "[known]") {
    // Barlow and Proschan (1975): 2p^2 + 2p^3 - 5p^4 + 2p^5. Slopes: Birnbaum (1969).
    for (const double p : {.3, .9}) {
        ClaimNetwork network;
        const JointWeight weight = with_bridge(network, p).between("s", "t", true);
        CHECK(weight.raw == Approx(2 * std::pow(p, 2) + 2 * std::pow(p, 3) - 5 * std::pow(p, 4) + 2 * std::pow(p, 5)).margin(1e-12));
        CHECK(weight.conditioned == Approx(weight.raw).margin(1e-12));
        if (p == .9) {
            CHECK(weight.raw == Approx(.97848).margin(5e-6));
            CHECK(network.slope(weight, "s", "a") == Approx(.1062).margin(5e-5));
            CHECK(network.slope(weight, "b", "t") == Approx(.1062).margin(5e-5));
            CHECK(network.slope(weight, "a", "b") == Approx(.0162).margin(5e-5));
        }
    }
}

TEST_CASE("the directed graph of ProbLog's test suite as claims", "[known]") {
    for (const auto& [goal, expected] : {std::pair{"5", .25824}, std::pair{"6", .2167296}}) {
        ClaimNetwork network;
        network.edge("1", "2", .6);
        network.edge("1", "3", .1);
        network.edge("2", "5", .4);
        network.edge("2", "6", .3);
        network.edge("3", "4", .3);
        network.edge("4", "5", .8);
        network.edge("5", "6", .2);
        CHECK(network.between("1", goal).raw == Approx(expected).margin(1e-9));
    }
}

TEST_CASE("the path example of cplint as claims", "[known]") {
    ClaimNetwork network;
    network.edge("a", "b", .2);
    network.edge("b", "e", .5);
    network.edge("a", "c", .3);
    network.edge("c", "d", .4);
    network.edge("d", "e", .4);
    network.edge("a", "e", .1);
    CHECK(network.between("a", "e").raw == Approx(.22888).margin(1e-9));
}
