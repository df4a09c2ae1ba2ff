#include "viz/render/positions.h"

#include <catch2/catch.hpp>

#include "kg/model/fault.h"

using namespace saggar;
using namespace saggar::viz;

TEST_CASE("positions survive their text form") {
    Positions positions;
    positions.width = 120.5;
    positions.height = 80;
    positions.nodes = {{10, 20}, {30, 40.5}};
    EdgePosition edge;
    edge.curve = {{1, 2}, {3, 4}, {5, 6}, {7, 8}};
    edge.head_tip = Point{9, 10};
    positions.edges = {edge};
    const auto read = parse_positions(to_text(positions), 2, 1);
    CHECK(read.width == 120.5);
    CHECK(read.nodes == positions.nodes);
    CHECK(read.edges[0].curve == edge.curve);
    CHECK_FALSE(read.edges[0].label);
    CHECK(read.edges[0].head_tip == edge.head_tip);
}

TEST_CASE("an answer that is not one is a fault") {
    const char* bad[] = {"",
                         "saggar-layout 2\nend\n",
                         "saggar-layout 1\n",
                         "saggar-layout 1\nnode 1 0 0\nend\n",
                         "saggar-layout 1\nnode 0 0\nend\n",
                         "saggar-layout 1\nnode 0 nan 0\nend\n",
                         "saggar-layout 1\nnode 0 1 2\nedge 0 - 1,2;3,4 - -\nend\n",
                         "saggar-layout 1\nsize x y\nend\n",
                         "saggar-layout 1\nend\n"};
    for (const auto* text : bad) CHECK_THROWS_AS(parse_positions(text, 1, 0), LimitFault);
}
