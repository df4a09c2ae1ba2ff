#include "kg/weigh/figures.h"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <cmath>

#include "kg/weigh/bdd.h"
#include "kg/weigh/truth_table.h"
#include "tests/kg/weigh/brute_force.h"
#include "tests/kg/weigh/random_lineage.h"

using namespace saggar::weighing;

namespace {

constexpr std::size_t plenty = 200'000;

std::vector<double> figures_of(const Lineage& lineage, const std::vector<Event>& roots) {
    const Figures figures(lineage, roots, plenty);
    REQUIRE(figures.exact());
    return figures.values(lineage.chances());
}

std::size_t cases() { return 5'000; }

}  // namespace

TEST_CASE("exact figures agree with adding up all worlds on 5 000 random lineages", "[figures]") {
    double worst = 0;
    for (std::size_t seed = 0; seed < cases(); ++seed) {
        const std::size_t variables = 1 + seed % (seed % 50 == 0 ? 20 : 13);
        const auto made = random_lineage(seed, variables, 2 + seed % 29, 1 + seed % 4);
        const auto exact = figures_of(made.lineage, made.roots);
        const auto slow = by_brute_force(made.lineage, made.roots, made.lineage.chances());
        for (std::size_t i = 0; i < exact.size(); ++i) worst = std::max(worst, std::abs(exact[i] - slow[i]));
    }
    CHECK(worst < 1e-9);
}

TEST_CASE("a slope is the figure with the chance at 1 less the figure with it at 0", "[figures]") {
    double worst = 0;
    for (std::size_t seed = 0; seed < 1'000; ++seed) {
        const auto made = random_lineage(seed + 90'000, 2 + seed % 12, 3 + seed % 20, 2);
        const Figures figures(made.lineage, made.roots, plenty);
        std::vector<double> chances(made.lineage.chances().begin(), made.lineage.chances().end());
        const auto slopes = figures.slopes(chances);
        for (std::size_t v = 0; v < chances.size(); ++v) {
            const double kept = chances[v];
            chances[v] = 1;
            const auto with = figures.values(chances);
            chances[v] = 0;
            const auto without = figures.values(chances);
            chances[v] = kept;
            for (std::size_t i = 0; i < 2; ++i) worst = std::max(worst, std::abs(slopes[i][v] - (with[i] - without[i])));
        }
    }
    CHECK(worst < 1e-12);
}

TEST_CASE("asking again with the same chances gives the same bits", "[figures]") {
    CHECK(rc::check("same bits", [](std::uint64_t seed) {
        const auto made = random_lineage(seed, 14, 25, 3);
        const Figures once(made.lineage, made.roots, plenty), again(made.lineage, made.roots, plenty);
        RC_ASSERT(once.values(made.lineage.chances()) == again.values(made.lineage.chances()));
    }));
}

TEST_CASE("a truth table and BuDDy work out the same diagram", "[figures]") {
    for (std::size_t seed = 0; seed < 500; ++seed) {
        const auto made = random_lineage(seed + 7'000, 1 + seed % 6, 1 + seed % 15, 2);
        const auto pieces = cut_into_pieces(made.lineage, made.roots);
        for (const Piece& piece : pieces) {
            const Diagram small = work_out_small(piece.circuit);
            const Diagram by_buddy = work_out(piece.circuit, plenty).value();
            REQUIRE(small.nodes.size() == by_buddy.nodes.size());  // reduced and ordered: canonical up to numbering
            const std::vector<double> chances(piece.circuit.leaves, .3);
            std::vector<double> value, by_buddy_value;
            small.values(chances, value);
            by_buddy.values(chances, by_buddy_value);
            for (std::size_t i = 0; i < small.roots.size(); ++i) {
                CHECK(value[small.roots[i]] == Approx(by_buddy_value[by_buddy.roots[i]]).margin(1e-15));
            }
        }
    }
}

TEST_CASE("a part past the budget is not worked out, and the next one is none the worse", "[figures]") {
    Lineage lineage;
    std::vector<Event> left, right, terms;
    for (int i = 0; i < 24; ++i) left.push_back(lineage.chance(.5));
    for (int i = 0; i < 24; ++i) right.push_back(lineage.chance(.5));
    for (int i = 0; i < 24; ++i) terms.push_back(lineage.both(left[i], right[i]));
    const Event knot = lineage.both(lineage.any_of(left), lineage.any_of(terms));
    const Event roots[] = {knot};
    CHECK_FALSE(Figures(lineage, roots, 100).exact());
    const Figures figures(lineage, roots, plenty);
    REQUIRE(figures.exact());
    // P(some pair holds); it implies that some left one holds.
    CHECK(figures.values(lineage.chances())[0] == Approx(1 - std::pow(.75, 24)).epsilon(1e-12));
}

TEST_CASE("private parts are cut off: a chain of 10 000 parts needs no large diagram", "[figures]") {
    Lineage lineage;
    Event all = Event::always();
    double expected = 1;
    for (int i = 0; i < 10'000; ++i) {
        const Event source = lineage.chance(.9999);
        const Event part = lineage.either(lineage.both(source, lineage.chance(.9)), lineage.both(source, lineage.chance(.95)));
        all = lineage.both(all, part);
        expected *= .9999 * (1 - .1 * .05);
    }
    const Event roots[] = {all};
    const Figures figures(lineage, roots, plenty);
    REQUIRE(figures.exact());
    CHECK(figures.values(lineage.chances())[0] == Approx(expected).epsilon(1e-9));
    CHECK(figures.diagram_nodes() < 60'000);
}

TEST_CASE("constants and repeated roots", "[figures]") {
    Lineage lineage;
    const Event a = lineage.chance(.25);
    CHECK(figures_of(lineage, {Event::always(), Event::never(), a, !a, a}) == std::vector<double>{1, 0, .25, .75, .25});
    CHECK(figures_of(lineage, {}).empty());
}

TEST_CASE("deciding shared chances gives the figures and slopes of the one large diagram", "[figures]") {
    // Chains through a network of three lanes whose links all rest on ten shared chances.
    Lineage lineage;
    std::vector<Event> shared;
    for (int i = 0; i < 10; ++i) shared.push_back(lineage.chance(.3 + .06 * i));
    std::vector<Event> at(3, Event::always()), good, bad;
    for (int layer = 0; layer < 7; ++layer) {
        std::vector<Event> next(3, Event::never());
        for (int lane = 0; lane < 3; ++lane) {
            for (const int to : {lane, (lane + 1) % 3}) {
                const int number = static_cast<int>(good.size());
                good.push_back(lineage.both(shared[static_cast<std::size_t>(number * 7 % 10)], lineage.chance(.8)));
                bad.push_back(lineage.both(shared[static_cast<std::size_t>(number * 3 % 10)], lineage.chance(.2)));
                next[to] = lineage.either(next[to], lineage.both(at[lane], good.back()));
            }
        }
        at = next;
    }
    const Event reached = lineage.any_of(at);
    std::vector<Event> fine;
    for (std::size_t i = 0; i < good.size(); ++i) fine.push_back(!lineage.both(good[i], bad[i]));
    const Event consistent = lineage.all_of(fine);
    const Event roots[] = {lineage.both(reached, consistent), consistent, reached};
    std::vector<Event> order;
    for (std::size_t i = 0; i < good.size(); ++i) {
        order.push_back(good[i]);
        order.push_back(bad[i]);
    }
    const Figures figures(lineage, roots, plenty, order);
    REQUIRE(figures.exact());
    REQUIRE(figures.decided() > 0);
    const auto values = figures.values(lineage.chances());
    const auto slopes = figures.slopes(lineage.chances());
    for (std::size_t i = 0; i < 3; ++i) {
        const auto pieces = cut_into_pieces(lineage, std::span<const Event>(roots).subspan(i, 1), {}, order);
        REQUIRE(pieces.size() <= 2);  // the root is one module
        const Piece& whole = pieces.front();
        const Diagram diagram = work_out(whole.circuit, 3'000'000).value();
        std::vector<double> chances, value, reach;
        for (const Piece::Leaf leaf : whole.leaves) chances.push_back(lineage.chances()[leaf.number]);
        diagram.values(chances, value);
        const bool turned = roots[i].negated();  // the piece is of the gate, the root may be its negation
        CHECK(values[i] == Approx(turned ? 1 - value[diagram.roots[0]] : value[diagram.roots[0]]).margin(1e-12));
        std::vector<double> slope(chances.size(), 0.0);
        diagram.add_slopes(chances, value, diagram.roots[0], 1.0, slope, reach);
        for (std::size_t leaf = 0; leaf < slope.size(); ++leaf) {
            CHECK(slopes[i][whole.leaves[leaf].number] == Approx(turned ? -slope[leaf] : slope[leaf]).margin(1e-10));
        }
    }
}
