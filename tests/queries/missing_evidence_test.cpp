#include "queries/missing_evidence.h"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include "kg/weigh/profile.h"
#include "queries/disputes.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

double support(SmallGraph& graph, const Claim& claim) { return graph.weigh(claim).support; }

std::optional<MissingEvidence> missing(SmallGraph& graph) {
    const DisputesAnswer answer = disputes(graph.snapshot(), graph.weigher(), {});
    REQUIRE(answer.disputes.size() == 1);
    return answer.disputes[0].missing;
}

}  // namespace

TEST_CASE("the masses after one more reading are those of the graph with the reading in it", "[missing]") {
    const bool holds = rc::check("masses foretold", [] {
        const auto chance = [] { return *rc::gen::inRange(1, 99) / 100.0; };
        SmallGraph graph;
        const Claim claim = graph.claim("treated-with", "treatment:a");
        const int in_favour = *rc::gen::inRange(0, 3), against = *rc::gen::inRange(0, 3);
        for (int i = 0; i < in_favour; ++i) graph.witness(claim, chance());
        for (int i = 0; i < against; ++i) graph.witness(claim, chance(), Stance::against);
        graph.write();
        const Stance stance = *rc::gen::element(Stance::in_favour, Stance::against);
        const double reliability = chance();
        const Masses foretold = with_reading(graph.weigh(claim).masses, reliability, stance);
        graph.witness(claim, reliability, stance);
        graph.write();
        const Masses found = graph.weigh(claim).masses;
        for (const auto part : {&Masses::for_only, &Masses::against_only, &Masses::both, &Masses::neither})
            RC_ASSERT(std::abs(foretold.*part - found.*part) < 1e-12);
    });
    CHECK(holds);
}

TEST_CASE("an open dispute names the weakest kind of source that would settle it, and what it would come to", "[missing]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:a");
    graph.witness(claim, .5);
    graph.witness(claim, .5, Stance::against);
    graph.write();
    const auto piece = missing(graph);
    REQUIRE(piece);
    CHECK(piece->kind == MissingEvidence::Kind::new_reading);
    CHECK(piece->settles);
    CHECK_FALSE(piece->clears);
    // .25 for, .25 against, .25 both, .25 neither: with r for, (.25 + .25 r) / (.75 - .25 r) is .8 at r = 7/9 = .778.
    CHECK(piece->grade == "contemporary-print");
    CHECK(piece->first_of_its_kind);
    const double foretold_for = piece->if_for, foretold_against = piece->if_against;
    graph.witness(claim, piece->reliability);
    graph.write();
    CHECK(support(graph, claim) == Approx(foretold_for));
    CHECK(foretold_for >= settled_at);
    CHECK(foretold_against <= 1 - settled_at);
}

TEST_CASE("of rivals, a reading for one is a reading against the other", "[missing]") {
    SmallGraph graph;
    const Claim a = graph.claim("modelled-by", "person:a"), b = graph.claim("modelled-by", "person:b");
    graph.witness(a, .6);
    graph.witness(b, .5);
    graph.write();
    const auto piece = missing(graph);
    REQUIRE(piece);
    REQUIRE(piece->kind == MissingEvidence::Kind::new_reading);
    CHECK(piece->claim == graph.ref(a));
    const double foretold = piece->if_for;
    graph.witness(a, piece->reliability);
    graph.write();
    CHECK(support(graph, a) == Approx(foretold));
}

TEST_CASE("a decided dispute names the source without which least contradiction is left", "[missing]") {
    SmallGraph graph;
    const Claim a = graph.claim("modelled-by", "person:a"), b = graph.claim("modelled-by", "person:b");
    for (int i = 0; i < 4; ++i) graph.witness(a, .9);
    graph.source("notice", .8);
    graph.source("gossip", .2);
    graph.reading(b, "notice");
    graph.reading(b, "gossip");
    graph.write();
    const auto piece = missing(graph);
    REQUIRE(piece);
    CHECK(piece->kind == MissingEvidence::Kind::second_look);
    CHECK(piece->clears);
    CHECK(graph.snapshot().key_of(piece->source) == "source:notice");
    WeighOptions without;
    without.what_if["source:notice"] = 0;
    CHECK(piece->both_if_misread == Approx(graph.weigh(a, without).masses.both));
}

TEST_CASE("a decided dispute that is hardly contradictory lacks nothing", "[missing]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:a");
    graph.witness(claim, .95);
    graph.witness(claim, .05, Stance::against);
    graph.write();
    CHECK_FALSE(missing(graph));
}
