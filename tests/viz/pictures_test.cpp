// Every kind of diagram as DOT against a stored file, and what must never be in it.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>

#include "golden.h"
#include "small_graph.h"
#include "viz/argument.h"
#include "viz/chain.h"
#include "viz/copying.h"
#include "viz/descent.h"
#include "viz/dot.h"
#include "viz/neighbourhood.h"
#include "viz/paint/paint.h"
#include "viz/svg.h"

using namespace saggar;
using namespace saggar::viz;
using saggar::testing::golden;
using saggar::testing::SmallGraph;

namespace {

// Figures typed in by hand, so that these tests say nothing about the weighing.
Figure by_hand(ClaimRef claim) {
    Figure figure;
    figure.support = 0.2 + 0.07 * static_cast<double>(claim.number % 10);
    figure.disputed = claim.number % 4 == 0;
    return figure;
}

DraftOptions options() {
    DraftOptions result;
    result.figure = by_hand;
    result.made_from = "profile by hand";
    return result;
}

void compare(const std::string& name, const Diagram& diagram) {
    const auto dot = to_dot(diagram);
    CHECK(dot == golden(name + ".dot", dot));
    const auto svg = to_svg(diagram);
    CHECK(svg.find("PLANTED") == std::string::npos);
    CHECK(dot.find("PLANTED") == std::string::npos);
    if (const char* folder = std::getenv("SAGGAR_PICTURES")) {
        std::ofstream(std::string(folder) + "/" + name + ".png") << svg_to_png(svg, 96);
        std::ofstream(std::string(folder) + "/" + name + ".svg") << svg;
    }
}

ReadingShown reading(const SmallGraph& graph, const ClaimRef& claim, const char* source, double reliability,
                     ReadingShown::Role role = ReadingShown::Role::own) {
    ReadingShown shown;
    const auto found = graph.snapshot().claim(claim);
    for (const auto& row : found->evidence) {
        if (graph.snapshot().key_of(row.source) != source) continue;
        shown.record = row.id;
        shown.source = row.source;
        shown.stance = row.stance;
    }
    shown.reliability = reliability;
    shown.role = role;
    return shown;
}

Weight ennersley(const SmallGraph& graph) {
    Weight w;
    w.claim = graph.claim("shape:pinnace", "modelled-by", "person:maud-ennersley");
    w.masses = {0.42, 0.18, 0.31, 0.09};
    w.support = 0.61;
    w.possibility = 0.74;
    w.words = "likely";
    w.clarity = Clarity::contested;
    w.roots_for = 1;
    w.roots_against = 1;
    w.readings = {reading(graph, w.claim, "source:journal", 0.9)};
    w.claims = {w.claim, graph.claim("shape:pinnace", "modelled-by", "person:aurel-stannick"),
                graph.claim("line:northern", "built-on", "shape:lantern")};
    return w;
}

Weight stannick(const SmallGraph& graph) {
    Weight w;
    w.claim = graph.claim("shape:pinnace", "modelled-by", "person:aurel-stannick");
    w.masses = {0.18, 0.42, 0.31, 0.09};
    w.support = 0.26;
    w.possibility = 0.39;
    w.clarity = Clarity::contested;
    w.readings = {reading(graph, w.claim, "source:notice", 0.8),
                  reading(graph, w.claim, "source:guide", 0.6, ReadingShown::Role::copy)};
    w.readings[1].root = graph.id("source:notice");
    return w;
}

}  // namespace

TEST_CASE("pictures of records are as stored") {
    const SmallGraph graph;
    const auto& snapshot = graph.snapshot();

    NeighbourhoodOptions near;
    near.depth = 2;
    compare("neighbourhood", neighbourhood(snapshot, graph.id("shape:lantern"), near, options()));

    NeighbourhoodOptions people;
    people.only = {"person"};
    compare("neighbourhood-people", neighbourhood(snapshot, graph.id("shape:pinnace"), people, options()));

    compare("descent", descent(snapshot, {}, {}, options()));
    compare("copying", copying(snapshot, std::nullopt, options()));

    ChainPicture picture;
    picture.from = graph.id("shape:lantern");
    picture.to = {graph.id("company:northern-provident")};
    picture.chains = {{graph.claim("line:northern", "built-on", "shape:lantern"),
                       graph.claim("line:northern", "commissioned-by", "company:northern-provident")}};
    picture.title = "From Lantern to a company";
    picture.description = "One chain, support 0.45.";
    compare("chain", chain(snapshot, picture, options()));
}

TEST_CASE("pictures of weights are as stored") {
    const SmallGraph graph;
    compare("argument", argument(graph.snapshot(), ennersley(graph), {}, options()));
    ArgumentOptions whole;
    whole.whole = true;
    compare("argument-whole", argument(graph.snapshot(), ennersley(graph), whole, options()));
    compare("dispute", dispute(graph.snapshot(), {ennersley(graph), stannick(graph)}, options()));

    Weight tureen;
    tureen.claim = graph.claim("shape:tern", "comprises", "article:tureen");
    tureen.masses = {0.09, 0.36, 0.41, 0.14};
    tureen.support = 0.16;
    tureen.possibility = 0.39;
    tureen.clarity = Clarity::contested;
    tureen.readings = {reading(graph, tureen.claim, "source:photo", 0.9)};
    ReadingShown list;
    list.is_listing = true;
    list.record = graph.snapshot().listings(tureen.claim.subject, tureen.claim.relation).front().id;
    list.stance = Stance::against;
    list.reliability = 0.81;
    tureen.readings.push_back(list);
    const auto diagram = argument(graph.snapshot(), tureen, {}, options());
    compare("argument-list", diagram);
    CHECK(diagram.edges.back().stance == Stance::against);
}

TEST_CASE("what is left out is stated") {
    const SmallGraph graph;
    const auto all = neighbourhood(graph.snapshot(), graph.id("shape:lantern"), {}, options());
    CHECK(all.left_out == "1 private record not shown.");
    auto with_private = options();
    with_private.with_private = true;
    const auto more = neighbourhood(graph.snapshot(), graph.id("shape:lantern"), {}, with_private);
    CHECK(more.left_out.empty());
    CHECK(more.edges.size() == all.edges.size() + 1);  // known from private evidence alone, so private itself
    CHECK(more.citations.size() == all.citations.size() + 1);

    NeighbourhoodOptions strong;
    strong.least_support = 0.99;
    CHECK(neighbourhood(graph.snapshot(), graph.id("shape:lantern"), strong, options())
              .left_out.find("claims with a support under 0.99") != std::string::npos);
}

TEST_CASE("a hazardous glaze carries the caution") {
    const SmallGraph graph;
    NeighbourhoodOptions near;
    near.depth = 2;
    const auto diagram = neighbourhood(graph.snapshot(), graph.id("shape:lantern"), near, options());
    REQUIRE(diagram.cautions.size() == 1);
    CHECK(diagram.cautions[0] == kGlazeCaution);
    CHECK(to_svg(diagram).find("caution") != std::string::npos);
}

TEST_CASE("contradictory sources give no single figure") {
    const SmallGraph graph;
    auto weight = ennersley(graph);
    weight.clarity = Clarity::contradictory;
    const auto diagram = argument(graph.snapshot(), weight, {}, options());
    CHECK_FALSE(diagram.nodes[0].weight);
    CHECK(diagram.nodes[0].disputed);
    CHECK(diagram.description.find("contradict each other") != std::string::npos);
    CHECK(diagram.description.find("0.61") == std::string::npos);
}
