#include "viz/condense.h"

#include <catch2/catch.hpp>
#include <set>

#include "sample.h"
#include "viz/layout.h"

using namespace saggar;
using namespace saggar::viz;

namespace {

// A hub with `count` items and as many people, each cited once.
Diagram star(std::size_t count) {
    Diagram d;
    d.name = "star";
    d.nodes.resize(1 + 2 * count);
    d.nodes[0].focus = true;
    for (std::size_t i = 1; i < d.nodes.size(); ++i) {
        d.nodes[i].kind = i <= count ? "item" : "person";
        d.nodes[i].label = "L" + std::to_string(i);
        DiagramEdge e;
        e.to = i;
        e.label = "includes";
        e.weight = 0.5;
        e.cited_for = {static_cast<int>(i)};
        d.edges.push_back(e);
        d.citations.push_back({static_cast<int>(i), "n"});
    }
    return d;
}

}  // namespace

TEST_CASE("a small diagram stays as it is") {
    const auto d = condensed(star(3));
    CHECK(d.nodes.size() == 7);
    CHECK(d.left_out.empty());
}

TEST_CASE("leaves of one kind become one box that keeps every citation") {
    const auto d = condensed(star(300));
    REQUIRE(d.nodes.size() == 302);  // the first of two equally large groups is enough
    CHECK(d.nodes[1].label == "300 together");
    CHECK(d.nodes[1].note == "L1, L2, L3, L4 and 296 more");
    CHECK(d.edges[0].cited_for.size() == 300);
    CHECK_FALSE(d.edges[0].weight);
    CHECK(d.left_out == "To keep the picture readable 300 boxes were put together into 1 by kind.");
    CHECK_NOTHROW(check(d));
}

TEST_CASE("what is disputed or ruled stands by itself") {
    auto d = star(300);
    d.nodes[7].disputed = true;
    d.edges[8].ruled = true;
    const auto small = condensed(d, 10);
    std::set<std::string> labels;
    for (const auto& node : small.nodes) labels.insert(node.label);
    CHECK(labels.count("L7") == 1);
    CHECK(labels.count("L9") == 1);
    CHECK(small.nodes.size() == 5);
}

TEST_CASE("a diagram without leaves is put together by kind and can be laid out") {
    auto d = sample::large(1200);
    const auto small = condensed(d);
    CHECK(small.nodes.size() <= kMostNodes);
    CHECK_NOTHROW(check(small));
    CHECK_FALSE(small.left_out.empty());
    CHECK(lay_out(small).positions.nodes.size() == small.nodes.size());
}
