#include "kg/weigh/lineage.h"

#include <catch2/catch.hpp>

using namespace saggar::weighing;

TEST_CASE("equal gates are one node", "[lineage]") {
    Lineage lineage;
    const Event a = lineage.chance(.5), b = lineage.chance(.5);
    CHECK(lineage.both(a, b) == lineage.both(b, a));
    CHECK(lineage.either(a, b) == !lineage.both(!a, !b));
    CHECK(lineage.nodes() == 5);  // the certain event, two chances, "both", "neither"
}

TEST_CASE("gates are simplified where the laws of thought allow", "[lineage]") {
    Lineage lineage;
    const Event a = lineage.chance(.5);
    CHECK(lineage.both(a, a) == a);
    CHECK(lineage.both(a, !a) == Event::never());
    CHECK(lineage.either(a, !a) == Event::always());
    CHECK(lineage.both(a, Event::always()) == a);
    CHECK(lineage.both(a, Event::never()) == Event::never());
    CHECK(lineage.either(a, Event::never()) == a);
    CHECK(lineage.all_of({}) == Event::always());
    CHECK(lineage.any_of({}) == Event::never());
}

TEST_CASE("chances are independent even with equal labels", "[lineage]") {
    Lineage lineage;
    const Event a = lineage.chance(.25, 7), b = lineage.chance(.75, 7);
    CHECK(a != b);
    CHECK(lineage.label(1) == 7);
    CHECK(lineage.chances()[1] == .75);
    CHECK(lineage.node_of(lineage.variable(b.node())) == b.node());
}
