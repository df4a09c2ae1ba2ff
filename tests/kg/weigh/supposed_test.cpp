// What nobody has claimed is weighed as if it stood in the graph with nothing read for it.
#include <catch2/catch.hpp>

#include "kg/weigh/weigher.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using namespace saggar::testing;

TEST_CASE("a claim that is only supposed weighs as it does once it is made", "[supposed]") {
    SmallGraph store;
    std::vector<Claim> supposed;
    std::vector<RandomGraph> graphs;
    for (std::uint64_t seed = 0; seed < 200; ++seed) graphs.push_back(random_graph(70'000 + seed));
    for (const RandomGraph& graph : graphs) {
        for (const Record& record : graph.records()) store.add(record);
        // An object that the graph knows, in a claim that nobody makes: one that has rivals and lists, one that has lists only.
        supposed.push_back({graph.subject(), "modelled-by", {Value::Type::entity, "person:nobody", ""}, "", "", false});
        supposed.push_back({graph.subject(), "treated-with", {Value::Type::entity, "treatment:none", ""}, "", "", false});
    }
    store.witness(store.claim("modelled-by", "person:nobody", "shape:elsewhere"), .5);
    store.witness(store.claim("treated-with", "treatment:none", "shape:elsewhere"), .5);
    store.write();
    std::vector<Masses> before;
    std::size_t refuted = 0;
    for (const Claim& claim : supposed) {
        before.push_back(store.weigher().masses_if_claimed(claim));
        CHECK(before.back().for_only == 0);
        if (before.back().against_only > 0) ++refuted;
    }
    CHECK(refuted > 50);
    for (const Claim& claim : supposed) store.add(claim);
    store.write();
    for (std::size_t i = 0; i < supposed.size(); ++i) {
        const Masses after = store.weigher().masses(store.ref(supposed[i]));
        INFO(supposed[i].subject << ' ' << supposed[i].relation);
        CHECK(after.against_only == Approx(before[i].against_only).margin(1e-12));
        CHECK(after.both == Approx(before[i].both).margin(1e-12));
        CHECK(after.neither == Approx(before[i].neither).margin(1e-12));
        CHECK(store.weigher().masses_if_claimed(supposed[i]) == after);  // made, it is weighed as it is
    }
}

TEST_CASE("of things that the graph does not know nothing is supposed", "[supposed]") {
    SmallGraph graph;
    graph.witness(graph.claim("comprises", "article:jug"), .9);
    graph.write();
    CHECK(graph.weigher().masses_if_claimed({"shape:it", "comprises", {Value::Type::entity, "article:none", ""}, "", "", false}) == Masses{});
    CHECK(graph.weigher().masses_if_claimed({"shape:none", "comprises", {Value::Type::entity, "article:jug", ""}, "", "", false}) == Masses{});
    CHECK(graph.weigher().masses_if_claimed({"shape:it", "sold-by", {Value::Type::entity, "article:jug", ""}, "", "", false}) == Masses{});
}
