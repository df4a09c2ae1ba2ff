#include "viz/layout.h"

#include <catch2/catch.hpp>

#include "sample.h"

using namespace saggar::viz;

namespace {

bool overlap(double ax, double aw, double bx, double bw) {
    return ax - aw / 2 < bx + bw / 2 && bx - bw / 2 < ax + aw / 2;
}

std::size_t overlaps(const Layout& layout) {
    std::size_t count = 0;
    const auto& at = layout.positions.nodes;
    for (std::size_t i = 0; i < at.size(); ++i) {
        for (std::size_t j = i + 1; j < at.size(); ++j) {
            count += overlap(at[i].x, layout.boxes[i].width, at[j].x, layout.boxes[j].width) &&
                     overlap(at[i].y, layout.boxes[i].height, at[j].y, layout.boxes[j].height);
        }
    }
    return count;
}

std::size_t labels_on_boxes(const Diagram& diagram, const Layout& layout) {
    std::size_t count = 0;
    for (std::size_t e = 0; e < diagram.edges.size(); ++e) {
        const auto& label = layout.positions.edges[e].label;
        if (!label) continue;
        for (std::size_t i = 0; i < layout.boxes.size(); ++i) {
            const auto& at = layout.positions.nodes[i];
            count += overlap(at.x, layout.boxes[i].width, label->x, layout.edge_blocks[e].width) &&
                     overlap(at.y, layout.boxes[i].height, label->y, layout.edge_blocks[e].height);
        }
    }
    return count;
}

}  // namespace

TEST_CASE("no box overlaps another and no words lie on a box") {
    for (const auto& diagram :
         {sample::chain(), sample::claim(), sample::large(60), sample::labels(sample::hostile())}) {
        const auto layout = lay_out(diagram);
        CHECK(overlaps(layout) == 0);
        CHECK(labels_on_boxes(diagram, layout) == 0);
    }
}

TEST_CASE("what is for stands left of what is against") {
    const auto layout = lay_out(sample::claim());
    const auto& at = layout.positions.nodes;
    CHECK(at[1].x < at[3].x);
    CHECK(at[2].x < at[3].x);
    CHECK(at[0].y < at[1].y);  // the claim stands above its sources
}

TEST_CASE("the layout program is told no text of a user") {
    const auto diagram = sample::labels(sample::hostile());
    std::vector<Box> boxes;
    std::vector<Block> blocks;
    for (const auto& node : diagram.nodes) boxes.push_back(box_of(node));
    for (const auto& edge : diagram.edges) blocks.push_back(block_of(edge));
    const auto question = layout_question(diagram, boxes, blocks);
    for (const char* text : {"script", "Lantern", "alert", "www", "broken"})
        CHECK(question.find(text) == std::string::npos);
}

TEST_CASE("an empty diagram needs no layout program") {
    CHECK(lay_out(Diagram{}, {}, "/nowhere").positions.nodes.empty());
}
