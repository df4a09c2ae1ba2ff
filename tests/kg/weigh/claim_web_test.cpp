#include "kg/weigh/claim_web.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>

#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

// Arrows between numbered nodes, each with a claim of its own and one witness for it (some have one against it too).
struct Net {
    SmallGraph graph;
    std::vector<Claim> claims;
    std::vector<ClaimWeb::Arrow> arrows;
    std::uint32_t nodes = 0;

    void arrow(std::uint32_t from, std::uint32_t to, double chance, double denied = 0) {
        const std::string key = "item:i" + std::to_string(claims.size());
        const Claim claim = graph.claim("replaced-by", key + "x", key);
        graph.witness(claim, chance);
        if (denied > 0) graph.witness(claim, denied, Stance::against);
        arrows.push_back({from, to, static_cast<std::uint32_t>(claims.size())});
        claims.push_back(claim);
        nodes = std::max({nodes, from + 1, to + 1});
    }
    void back(std::size_t of) { arrows.push_back({arrows[of].to, arrows[of].from, arrows[of].claim}); }

    JointWeight by_reachability(std::uint32_t start, std::uint32_t goal) {
        ClaimWeb web;
        web.nodes = nodes;
        web.start = start;
        web.goals = {goal};
        web.arrows = arrows;
        for (const Claim& claim : claims) web.claims.push_back(graph.ref(claim));
        WeighOptions options;
        options.explain = false;
        return graph.weigher().joint(web, options);
    }
    // The slow twin: all loopless ways, listed. All claims enter the case, so that contradictions are the same.
    JointWeight by_listing(std::uint32_t start, std::uint32_t goal) {
        std::vector<std::vector<Claim>> ways;
        std::vector<bool> passed(nodes, false);
        std::vector<Claim> way;
        const std::function<void(std::uint32_t)> walk = [&](std::uint32_t at) {
            if (at == goal) return ways.push_back(way);
            passed[at] = true;
            for (const ClaimWeb::Arrow& arrow : arrows) {
                if (arrow.from != at || passed[arrow.to]) continue;
                way.push_back(claims[arrow.claim]);
                walk(arrow.to);
                way.pop_back();
            }
            passed[at] = false;
        };
        walk(start);
        if (!ways.empty()) {  // a way of all claims adds nothing but their contradictions
            std::vector<Claim> all = claims;
            ways.push_back(all);
        }
        WeighOptions options;
        options.explain = false;
        return graph.joint(ways, options);
    }
};

}  // namespace

TEST_CASE("the bridge has its published reliability by reachability", "[claim_web]") {
    // Barlow and Proschan (1975): 2p^2 + 2p^3 - 5p^4 + 2p^5; .97848 at .9. The middle edge is walked both ways.
    for (const double p : {.3, .9}) {
        Net net;
        net.arrow(0, 1, p);
        net.arrow(0, 2, p);
        net.arrow(1, 2, p);
        net.back(2);
        net.arrow(1, 3, p);
        net.arrow(2, 3, p);
        net.graph.write();
        const double expected = 2 * std::pow(p, 2) + 2 * std::pow(p, 3) - 5 * std::pow(p, 4) + 2 * std::pow(p, 5);
        CHECK(net.by_reachability(0, 3).raw == Approx(expected).epsilon(1e-12));
    }
}

TEST_CASE("reachability and listing agree", "[claim_web]") {
    std::mt19937 random(5);
    for (int round = 0; round < 60; ++round) {
        Net net;
        const std::uint32_t nodes = 3 + random() % 4;
        const std::size_t count = 2 + random() % 9;
        for (std::size_t i = 0; i < count; ++i) {
            const auto from = static_cast<std::uint32_t>(random() % nodes);
            const auto to = static_cast<std::uint32_t>(random() % nodes);
            const double chance = static_cast<double>(1 + random() % 9) / 10;
            const double denied = random() % 4 == 0 ? .3 : 0;
            net.arrow(from, to, chance, denied);
            if (random() % 3 == 0) net.back(net.arrows.size() - 1);
        }
        net.nodes = nodes;
        net.graph.write();
        const JointWeight all = net.by_reachability(0, 1);
        const JointWeight listed = net.by_listing(0, 1);
        INFO("round " << round);
        CHECK(all.raw == Approx(listed.raw).margin(1e-12));
        if (listed.raw == 0) continue;
        CHECK(all.consistent == Approx(listed.consistent).margin(1e-12));
        CHECK(all.conditioned == Approx(listed.conditioned).margin(1e-12));
        CHECK(all.uncontested == Approx(listed.uncontested).margin(1e-12));
    }
}

TEST_CASE("a web whose ways are too many to list is worked out all the same", "[claim_web]") {
    // A ladder of 20 rungs: 2^20 ways and more. Reached at the end with the figure of its transfer recursion.
    Net net;
    const double p = .9;
    for (std::uint32_t i = 0; i < 20; ++i) {
        net.arrow(i, i + 1, p);
        net.arrow(i, i + 1, p / 2);
    }
    net.graph.write();
    CHECK(net.by_reachability(0, 20).raw == Approx(std::pow(1 - (1 - p) * (1 - p / 2), 20)).epsilon(1e-9));
}
