#include "viz/panels.h"

#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "sample.h"
#include "viz/svg.h"

using namespace saggar::viz;
using Catch::Matchers::Contains;

namespace {

// Five people, each joined to each: ten lines, no leaf.
Diagram five() {
    Diagram d;
    d.name = "five";
    d.description = "Ten claims.";
    for (const char* name : {"Ann", "Ben", "Cis", "Dot", "Eve"}) {
        DiagramNode node;
        node.kind = "person";
        node.label = name;
        d.nodes.push_back(node);
    }
    d.nodes[3].focus = true;
    for (std::size_t a = 0; a < 5; ++a) {
        for (std::size_t b = a + 1; b < 5; ++b) {
            DiagramEdge edge;
            edge.from = a;
            edge.to = b;
            edge.label = "knew";
            edge.weight = 0.5;
            d.edges.push_back(edge);
        }
    }
    return d;
}

}  // namespace

TEST_CASE("every line stands in exactly one panel, between the same things") {
    const auto whole = five();
    const auto panels = in_panels(whole);
    std::multimap<std::string, std::string> before, after;
    for (const auto& e : whole.edges) before.emplace(whole.nodes[e.from].label, whole.nodes[e.to].label);
    for (const auto& e : panels.diagram.edges)
        after.emplace(panels.diagram.nodes[e.from].label, panels.diagram.nodes[e.to].label);
    std::multiset<std::pair<std::string, std::string>> one(before.begin(), before.end()), two(after.begin(), after.end());
    CHECK(one == two);
    CHECK_NOTHROW(check(panels.diagram));
}

TEST_CASE("the thing the picture is about has the first panel, and boxes name their panel") {
    const auto panels = in_panels(five());
    CHECK(panels.diagram.nodes[0].label == "Dot");
    CHECK(panels.diagram.nodes[0].note == "panel 1");
    CHECK(panels.diagram.nodes[0].focus);
    // Dot takes four lines, Ann three of the six left, Ben two, Cis one: the usual greedy order.
    CHECK(panels.diagram.nodes.size() == 4 + 10);
    CHECK(panels.diagram.nodes[1].label == "Ann");
    CHECK(panels.diagram.nodes[1].note == "see panel 2");
    CHECK_THAT(panels.diagram.description,
               Contains("Ten claims. Its 10 lines are drawn in 4 panels, each line once; a thing that has a panel"));
}

TEST_CASE("what no line touches still stands on the sheet") {
    auto d = five();
    d.nodes.push_back(d.nodes[0]);
    d.nodes.back().label = "Flo";
    const auto panels = in_panels(d);
    CHECK(panels.diagram.nodes.back().label == "Flo");
    CHECK(panels.layout.positions.nodes.back().x > 0);
}

TEST_CASE("a large sheet says which paper holds it") {
    CHECK_THAT(to_svg(sample::large(200)), Contains("Full size: ") && Contains(" cm, "));
    CHECK_THAT(to_svg(sample::chain()), !Contains("Full size"));
}
