#include "viz/comb.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "viz/layout.h"

using namespace saggar;
using namespace saggar::viz;

namespace {

// A hub, the leaves the lines run to, the leaves they come from, and a second thing beside.
Diagram star(std::size_t outward, std::size_t inward) {
    Diagram diagram;
    const auto add = [&](std::string label) {
        DiagramNode node;
        node.kind = "shape";
        node.label = std::move(label);
        diagram.nodes.push_back(node);
    };
    add("hub");
    add("beside");
    for (std::size_t i = 0; i < outward + inward; ++i) add("leaf " + std::string(i % 40, 'x') + std::to_string(i));
    const auto join = [&](std::size_t from, std::size_t to) {
        DiagramEdge edge;
        edge.from = from;
        edge.to = to;
        edge.label = "comprises";
        edge.weight = 0.5;
        diagram.edges.push_back(edge);
    };
    join(0, 1);
    join(1, 0);
    for (std::size_t i = 0; i < outward; ++i) join(0, 2 + i);
    for (std::size_t i = 0; i < inward; ++i) join(2 + outward + i, 0);
    return diagram;
}

struct Field {
    double left, top, right, bottom;
};
Field around(const Point& centre, double width, double height) {
    return {centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2};
}
bool meet(const Field& a, const Field& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

// Everything that takes room: boxes and the words beside lines.
std::vector<Field> fields_of(const Layout& layout) {
    std::vector<Field> fields;
    for (std::size_t i = 0; i < layout.boxes.size(); ++i)
        fields.push_back(around(layout.positions.nodes[i], layout.boxes[i].width, layout.boxes[i].height));
    for (std::size_t i = 0; i < layout.edge_blocks.size(); ++i) {
        if (const auto& label = layout.positions.edges[i].label)
            fields.push_back(around(*label, layout.edge_blocks[i].width, layout.edge_blocks[i].height));
    }
    return fields;
}

std::size_t meetings(const std::vector<Field>& fields) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < fields.size(); ++i)
        for (std::size_t j = i + 1; j < fields.size(); ++j) count += meet(fields[i], fields[j]);
    return count;
}

// Whether a straight upright or level piece of a shared line holds the point.
bool lies_on(const Stem& stem, const Point& point) {
    const auto& a = stem.path.curve.front();
    const auto& b = stem.path.curve.back();
    return std::min(a.x, b.x) - 0.01 <= point.x && point.x <= std::max(a.x, b.x) + 0.01 &&
           std::min(a.y, b.y) - 0.01 <= point.y && point.y <= std::max(a.y, b.y) + 0.01 &&
           (std::abs(a.x - b.x) < 0.01 || std::abs(a.y - b.y) < 0.01);
}

}  // namespace

TEST_CASE("three hundred leaves are laid out without anything on anything else") {
    for (const Flow flow : {Flow::down, Flow::up, Flow::right}) {
        auto diagram = star(190, 108);
        diagram.flow = flow;
        const auto layout = lay_out(diagram);
        CHECK(meetings(fields_of(layout)) == 0);
        CHECK(layout.positions.width < 6 * layout.positions.height);
        CHECK(layout.positions.height < 6 * layout.positions.width);
        for (const auto& field : fields_of(layout)) {
            CHECK(field.left >= 0);
            CHECK(field.right <= layout.positions.width + 0.1);
            CHECK(field.top >= 0);
            CHECK(field.bottom <= layout.positions.height + 0.1);
        }
    }
}

TEST_CASE("every branch of a comb starts on its trunk and ends at its leaf, with the arrow the right way") {
    for (const Flow flow : {Flow::down, Flow::up, Flow::right}) {
        auto diagram = star(40, 30);
        diagram.flow = flow;
        const auto layout = lay_out(diagram);
        for (std::size_t i = 2; i < diagram.edges.size(); ++i) {
            const auto& line = diagram.edges[i];
            const auto& edge = layout.positions.edges[i];
            const bool outward = line.from == 0;
            const auto leaf = outward ? line.to : line.from;
            REQUIRE(edge.head_tip);
            const Point trunk_end = outward ? edge.curve.front() : *edge.head_tip;
            const Point leaf_end = outward ? *edge.head_tip : edge.curve.front();
            CHECK(std::any_of(layout.stems.begin(), layout.stems.end(),
                              [&](const Stem& stem) { return lies_on(stem, trunk_end); }));
            CHECK(leaf_end.x == Approx(layout.positions.nodes[leaf].x - layout.boxes[leaf].width / 2));
            CHECK(leaf_end.y == Approx(layout.positions.nodes[leaf].y));
        }
    }
}

TEST_CASE("a comb holds leaves of one hub and one side only, and none the picture is about") {
    auto diagram = star(50, 50);
    diagram.nodes[5].focus = true;
    std::vector<Box> boxes;
    std::vector<Block> blocks;
    for (const auto& node : diagram.nodes) boxes.push_back(box_of(node));
    for (const auto& edge : diagram.edges) blocks.push_back(block_of(edge));
    const auto combs = combs_of(diagram, boxes, blocks);
    REQUIRE(combs.size() == 2);
    CHECK_FALSE(combs[0].outward);
    CHECK(combs[0].teeth.size() == 50);
    CHECK(combs[1].outward);
    CHECK(combs[1].teeth.size() == 49);
    CHECK(combs_of(star(20, 10), boxes, blocks).empty());  // a small picture needs none
}

TEST_CASE("what speaks for and what speaks against stand in combs of their own") {
    auto diagram = star(0, 60);
    for (std::size_t i = 2; i < diagram.edges.size(); ++i) {
        diagram.edges[i].role = LineRole::evidence;
        diagram.edges[i].stance = i % 3 == 0 ? Stance::against : Stance::in_favour;
    }
    const auto layout = lay_out(diagram);
    CHECK(meetings(fields_of(layout)) == 0);
    double in_favour = 0, against = 0;
    for (const auto& stem : layout.stems) {
        auto& side = diagram.edges[stem.like].stance == Stance::against ? against : in_favour;
        side = std::max(side, stem.path.curve.front().x);
    }
    CHECK(in_favour > 0);
    CHECK(against > 0);
}
