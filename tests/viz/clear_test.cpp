// Nothing overlaps, is crossed or cut: judged on the finished SVG of pictures of many sizes.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <iostream>
#include <random>

#include "drawn.h"
#include "sample.h"
#include "viz/svg.h"

using namespace saggar::viz;
using saggar::testing::faults_of_svg;

namespace {

// A picture as a neighbourhood two steps deep has it: every box hangs on an earlier one, some lines join at random.
Diagram random_diagram(unsigned seed, std::size_t boxes, double lines_per_box) {
    static const char* const kRelations[] = {"was commissioned by", "was built on the shape", "comprises",
                                             "was sold by", "was modelled by", "was glazed in"};
    static const char* const kLabels[] = {"Lantern", "Northern Provident Co-operative Grocers", "tea plate",
                                          "Interview with Ilse Kroyden, recorded by Ivor Lethering", "1938"};
    std::mt19937 random(seed);
    const auto draw = [&random](std::size_t below) { return static_cast<std::size_t>(random() % below); };
    Diagram d;
    d.name = "random";
    d.title = "Boxes joined at random";
    for (std::size_t i = 0; i < boxes; ++i) {
        DiagramNode node;
        node.kind = "thing";
        node.label = kLabels[draw(5)];
        d.nodes.push_back(node);
    }
    const auto join = [&](std::size_t from, std::size_t to) {
        DiagramEdge edge;
        edge.from = from;
        edge.to = to;
        edge.label = kRelations[draw(6)];
        edge.weight = 0.01 * static_cast<double>(draw(100));
        edge.disputed = draw(8) == 0;
        d.edges.push_back(edge);
    };
    for (std::size_t i = 1; i < boxes; ++i) join(draw(i), i);
    const auto more = static_cast<std::size_t>(static_cast<double>(boxes) * lines_per_box);
    while (d.edges.size() < more) {
        const std::size_t from = draw(boxes), to = draw(boxes);
        if (from != to) join(from, to);
    }
    return d;
}

// Of `count` pictures from `least` to `most` boxes: how many have no fault.
std::size_t clean_ones(std::size_t count, std::size_t least, std::size_t most, double lines_per_box) {
    std::size_t clean = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t boxes = least + i * (most - least) / (count - 1);
        const auto faults = faults_of_svg(to_svg(random_diagram(static_cast<unsigned>(i + 1), boxes, lines_per_box)));
        clean += faults.empty();
        if (std::getenv("SAGGAR_FAULTS") == nullptr || faults.empty()) continue;
        std::cerr << boxes << " boxes: " << faults.size() << " faults, first: " << faults.front() << '\n';
    }
    return clean;
}

}  // namespace

TEST_CASE("pictures of records and arguments have no fault") {
    for (const auto& diagram : {sample::chain(), sample::claim(), sample::large(30), sample::large(60),
                                sample::labels(sample::hostile())}) {
        const auto faults = faults_of_svg(to_svg(diagram));
        for (const auto& fault : faults) UNSCOPED_INFO(fault);
        CHECK(faults.empty());
    }
}

// The shares are measured, not wished for: see tests/bench/RESULTS.md. A random graph with one and a half lines to the
// box is harder than what claims make: most things they name are leaves.
TEST_CASE("random pictures of 10 to 100 boxes are clean") {
    CHECK(clean_ones(40, 10, 100, 1.1) == 40);
    CHECK(clean_ones(40, 10, 60, 1.3) == 40);
    CHECK(clean_ones(20, 10, 100, 1.5) == 20);
}

// Four hundred boxes and eight hundred lines are taken apart into panels, which can always be read.
TEST_CASE("a web of 400 boxes and 800 lines is clean") {
    const auto diagram = random_diagram(7, 400, 2.0);
    REQUIRE(diagram.edges.size() == 800);
    const auto faults = faults_of_svg(to_svg(diagram));
    for (const auto& fault : faults) UNSCOPED_INFO(fault);
    CHECK(faults.empty());
}
