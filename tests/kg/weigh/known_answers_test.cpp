// Cases with known answers, each as a small graph. The sources stand beside them; "derived" means worked out by hand
// from the definitions, independently of the code.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

constexpr const char* modeller = "modelled-by";  // at most one
constexpr const char* decoration = "treated-with";

// Agreement to the digits printed in the source.
Approx printed(double value, double half_digit) { return Approx(value).margin(half_digit); }

}  // namespace

TEST_CASE("two flatly opposed witnesses", "[known]") {
    // Shafer, "Perspectives on the theory and practice of belief functions" (1990): .9 and .9 give 9/19 each, 1/19 open.
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    graph.witness(claim, .9);
    graph.witness(claim, .9, Stance::against);
    graph.write();
    const Weight weight = graph.weigh(claim);
    CHECK(weight.support == printed(.4737, 5e-5));
    CHECK(*weight.masses.of_denial().support() == printed(.4737, 5e-5));
    CHECK(weight.possibility - weight.support == printed(.0526, 5e-5));
    CHECK(weight.masses.both == printed(.81, 1e-12));
    CHECK(weight.clarity == Clarity::contradictory);
}

TEST_CASE("Zadeh's pattern", "[known]") {
    // Zadeh, "Review of Shafer's A Mathematical Theory of Evidence" (1984), the two experts discounted to the cap .95. Each
    // expert names one disease (.99 of his mass) and, failing that, another (.01): a statement that the first takes back.
    SmallGraph graph;
    const Claim a = graph.claim(modeller, "person:a"), b = graph.claim(modeller, "person:b"), c = graph.claim(modeller, "person:c");
    for (const auto& [expert, first] : {std::pair{"one", a}, std::pair{"two", c}}) {
        Source& source = graph.source(expert, .95);
        source.dependence = 1;
        const Evidence second = graph.reading(b, expert);
        Evidence sure;
        sure.claim = id_of(first);
        sure.source = source.key;
        sure.certainty = "0.995";  // h = .99
        sure.corrects = id_of(second);
        graph.add(sure);
    }
    graph.write();
    CHECK(graph.weigh(a).support == printed(.482, 5e-4));
    CHECK(graph.weigh(c).support == printed(.482, 5e-4));
    CHECK(graph.weigh(b).support == printed(.011, 5e-4));
    for (const Claim& claim : {a, b, c}) {
        CHECK(graph.weigh(claim).masses.both == printed(.902, 5e-4));
        CHECK(graph.weigh(claim).clarity == Clarity::no_figure);
    }
}

TEST_CASE("ten readings of one family", "[known]") {
    // Derived: 1-.7^10; .65(1-(1-.3/.65)^10); .5(1-.4^10); .3.
    const std::pair<const char*, double> rows[] = {{"0.0", .972}, {"0.5", .649}, {"0.7142857142857143", .500}, {"1.0", .300}};
    for (const auto& [dependence, expected] : rows) {
        SmallGraph graph(testing::profile_with("\"same circle\", \"dependence\": 0.7", std::string("\"same circle\", \"dependence\": ") + dependence));
        const Claim claim = graph.claim(decoration, "treatment:blue");
        for (int i = 0; i < 10; ++i) {
            Source& source = graph.source("rumour-" + std::to_string(i), .3);
            source.family = "talk";
            source.family_kind = "circle";
            graph.reading(claim, "rumour-" + std::to_string(i));
        }
        graph.write();
        INFO(dependence);
        CHECK(graph.weigh(claim).support == printed(expected, 5e-4));
    }
}

TEST_CASE("eight rumours against a works ledger", "[known]") {
    SmallGraph graph(testing::profile_with("\"same circle\", \"dependence\": 0.7", "\"same circle\", \"dependence\": 0.7142857142857143"));
    const Claim rumoured = graph.claim(modeller, "person:a"), written = graph.claim(modeller, "person:b");
    for (int i = 0; i < 8; ++i) {
        Source& source = graph.source("rumour-" + std::to_string(i), .3);
        source.family = "talk";
        source.family_kind = "circle";
        graph.reading(rumoured, "rumour-" + std::to_string(i));
    }
    graph.source("ledger", .9).type = "ledger";
    graph.reading(written, "ledger");
    graph.write();
    CHECK(graph.weigh(rumoured).support == printed(.091, 5e-4));
    CHECK(graph.weigh(rumoured).masses.both == printed(.450, 5e-4));
    CHECK(graph.weigh(written).support == printed(.818, 5e-4));
    CHECK(graph.weigh(rumoured).roots_for == 8);
    CHECK(graph.weigh(rumoured).roots_against == 1);
}

TEST_CASE("a notice and three books that copy it", "[known]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    graph.source("notice", .8);
    graph.reading(claim, "notice");
    for (const char* book : {"book-1", "book-2", "book-3"}) {
        graph.source(book, .7).copied_from.push_back({"source:notice", 1, 1});
        graph.reading(claim, book);
    }
    graph.write();
    const Weight weight = graph.weigh(claim);
    CHECK(weight.support == printed(.800, 1e-12));
    CHECK(weight.roots_for == 1);
    REQUIRE(weight.grounds_for.size() == 1);
    CHECK(weight.grounds_for[0].probability == printed(.8, 1e-12));
    CHECK(std::count_if(weight.readings.begin(), weight.readings.end(),
                        [](const ReadingShown& it) { return it.role == ReadingShown::Role::copy; }) == 3);
}

TEST_CASE("a recollection, and a list that leaves the thing out", "[known]") {
    SmallGraph graph;
    const Claim claim = graph.claim("comprises", "article:tureen");
    graph.source("recollection", .5);
    graph.reading(claim, "recollection");
    graph.source("list", .9);
    Listing list;
    list.source = "source:list";
    list.subject = claim.subject;
    list.relation = claim.relation;
    list.completeness = .9;
    graph.add(list);
    graph.write();
    const Weight weight = graph.weigh(claim);
    CHECK(weight.support == printed(.160, 5e-4));
    CHECK(weight.possibility == printed(.319, 5e-4));
    CHECK(weight.masses.both == printed(.405, 5e-4));
    REQUIRE(weight.grounds_against.size() == 1);
    CHECK(weight.grounds_against[0].listings == std::vector<ContentId>{id_of(list)});
    CHECK(weight.grounds_against[0].probability == printed(.81, 1e-12));
}

TEST_CASE("a hedged letter against a ledger for a rival", "[known]") {
    SmallGraph graph;
    const Claim a = graph.claim(modeller, "person:a"), b = graph.claim(modeller, "person:b");
    graph.source("letter", .8);
    graph.reading(a, "letter", "I believe");
    graph.source("ledger", .85);
    graph.reading(b, "ledger");
    graph.write();
    CHECK(graph.weigh(a).support == printed(.091, 5e-4));
    CHECK(graph.weigh(b).support == printed(.773, 5e-4));
    CHECK(graph.weigh(a).masses.both == printed(.340, 5e-4));
}

TEST_CASE("an author corrects himself", "[known]") {
    SmallGraph graph;
    const Claim old_view = graph.claim(modeller, "person:a"), new_view = graph.claim(modeller, "person:b");
    graph.source("first-edition", .8).author = "Hale";
    graph.source("second-edition", .85).author = "Hale";
    const Evidence old_reading = graph.reading(old_view, "first-edition");
    Evidence correction;
    correction.claim = id_of(new_view);
    correction.source = "source:second-edition";
    correction.corrects = id_of(old_reading);
    graph.add(correction);
    graph.write();
    CHECK(graph.weigh(old_view).support == printed(.120, 5e-4));
    CHECK(graph.weigh(new_view).support == printed(.850, 5e-4));
    CHECK(graph.weigh(old_view).masses.both == printed(0, 1e-12));
    CHECK(graph.weigh(old_view).readings[0].role == ReadingShown::Role::corrected);
}

TEST_CASE("another entry of the same handbook is contradicted", "[known]") {
    SmallGraph graph;
    const Claim mine = graph.claim(decoration, "treatment:blue"), other = graph.claim(decoration, "treatment:green");
    graph.source("handbook", .8);
    graph.reading(mine, "handbook");
    graph.reading(other, "handbook");
    graph.witness(other, .95, Stance::against);
    graph.write();
    CHECK(graph.weigh(mine).support == printed(.800, 1e-12));
    CHECK(graph.weigh(mine).masses.both == 0);
    CHECK(graph.weigh(other).masses.both > .7);
}

TEST_CASE("a chain of five contested links", "[known]") {
    SmallGraph graph;
    std::vector<Claim> chain;
    for (int i = 0; i < 5; ++i) {
        chain.push_back(graph.claim(decoration, "treatment:t" + std::to_string(i), "shape:s" + std::to_string(i)));
        graph.witness(chain.back(), .9);
        graph.witness(chain.back(), .3, Stance::against);
    }
    graph.write();
    const JointWeight weight = graph.joint({chain});
    CHECK(weight.raw == printed(.590, 5e-4));
    CHECK(weight.conditioned == printed(.479, 5e-4));
    CHECK(weight.uncontested == printed(.099, 5e-4));
    REQUIRE(weight.worst);
    CHECK(weight.worst->both == printed(.27, 1e-12));
}

TEST_CASE("a dealer, and the base rate beside", "[known]") {
    SmallGraph graph;
    const Claim claim = graph.claim("made-by", "maker:skerrow", "piece:1");
    graph.witness(claim, .8);
    graph.write();
    WeighOptions options;
    options.base_rate = .005;
    const Weight weight = graph.weigh(claim, options);
    CHECK(weight.support == printed(.800, 1e-12));
    REQUIRE(weight.betting);
    CHECK(*weight.betting == printed(.0245, 5e-5));
}

TEST_CASE("three guides: copying not known, and suspected", "[known]") {
    {
        SmallGraph graph;
        const Claim claim = graph.claim(decoration, "treatment:blue");
        for (const char* guide : {"guide-1", "guide-2", "guide-3"}) {
            graph.source(guide, .6).family = "guides";
            graph.reading(claim, guide);
        }
        graph.write();
        const Weight weight = graph.weigh(claim);
        CHECK(weight.band.unknown);
        CHECK(weight.band.low() == printed(.600, 5e-4));
        CHECK(weight.band.high() == printed(.936, 5e-4));
    }
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    graph.source("guide-1", .6);
    graph.reading(claim, "guide-1");
    for (const char* guide : {"guide-2", "guide-3"}) {
        graph.source(guide, .6).copied_from.push_back({"source:guide-1", .7, 1});
        graph.reading(claim, guide);
    }
    graph.write();
    CHECK(graph.weigh(claim).support == printed(.731, 5e-4));
}

TEST_CASE("two readings of one source are neither one nor independent", "[known]") {
    // Derived: .8, dependence .5: both good .711, at least one .889.
    SmallGraph graph;
    const Claim a = graph.claim(decoration, "treatment:blue"), b = graph.claim(decoration, "treatment:green");
    graph.source("book", .8);
    graph.reading(a, "book");
    graph.reading(b, "book");
    graph.write();
    CHECK(graph.weigh(a).support == printed(.8, 1e-12));
    CHECK(graph.joint({{a, b}}).raw == printed(.711, 5e-4));
    CHECK(graph.joint({{a}, {b}}).raw == printed(.889, 5e-4));
    CHECK(graph.joint({{a}, {b}}).band.high() == printed(.96, 1e-9));
    CHECK(graph.joint({{a}, {b}}).band.low() == printed(.8, 1e-9));
}
