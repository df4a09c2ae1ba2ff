// What the weigher explains, and what it does under other assumptions.
#include "kg/weigh/weigher.h"

#include <catch2/catch.hpp>

#include <algorithm>

#include "kg/model/fault.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

constexpr const char* modeller = "modelled-by";
constexpr const char* decoration = "treated-with";

const Influence* influence_of(const Weight& weight, EntityId source) {
    const auto found = std::find_if(weight.influence.begin(), weight.influence.end(),
                                    [&](const Influence& it) { return it.source == source; });
    return found == weight.influence.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("grounds are minimal sets of evidence, best first", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue"), first = graph.claim("has-feature", "feature:lug"),
                second = graph.claim("has-feature", "feature:foot");
    const Evidence direct = graph.witness(claim, .6), for_first = graph.witness(first, .9), for_second = graph.witness(second, .8);
    const Argument argument = graph.argument({first, second}, claim, .5);
    graph.write();
    const Weight weight = graph.weigh(claim);
    REQUIRE(weight.grounds_for.size() == 2);
    CHECK(weight.grounds_for[0].evidence == std::vector<ContentId>{id_of(direct)});
    CHECK(weight.grounds_for[0].probability == Approx(.6));
    std::vector<ContentId> premises{id_of(for_first), id_of(for_second)};
    std::sort(premises.begin(), premises.end());
    CHECK(weight.grounds_for[1].evidence == premises);
    CHECK(weight.grounds_for[1].arguments == std::vector<ContentId>{id_of(argument)});
    CHECK(weight.grounds_for[1].probability == Approx(.9 * .8 * .5));
    CHECK(weight.support == Approx(1 - (1 - .6) * (1 - .36)));
    CHECK(weight.roots_for == 3);
}

TEST_CASE("rivals give the grounds against", "[weigher]") {
    SmallGraph graph;
    const Claim a = graph.claim(modeller, "person:a"), b = graph.claim(modeller, "person:b");
    graph.witness(a, .7);
    const Evidence rival = graph.witness(b, .6);
    graph.write();
    const Weight weight = graph.weigh(a);
    REQUIRE(weight.grounds_against.size() == 1);
    CHECK(weight.grounds_against[0].evidence == std::vector<ContentId>{id_of(rival)});
    CHECK(weight.claims.size() == 2);
    REQUIRE(weight.worst);
    CHECK(weight.worst->both == Approx(.42));
}

TEST_CASE("influence tells what a misreading would do, exactly", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue"), other = graph.claim(decoration, "treatment:green");
    graph.source("memo", .8);
    graph.reading(claim, "memo");
    graph.reading(other, "memo");
    graph.source("guide", .5);
    graph.reading(claim, "guide");
    graph.witness(claim, .3, Stance::against);
    graph.write();
    const Weight weight = graph.weigh(claim);
    const EntityId memo = graph.snapshot().need("source:memo");
    REQUIRE(influence_of(weight, memo));
    // Without the memo: .5 for, .3 against.
    CHECK(influence_of(weight, memo)->without == Approx(.5 * .7 / (1 - .5 * .3)));
    CHECK(weight.influence.front().source == memo);
    WeighOptions options;
    options.what_if["source:memo"] = .81;
    CHECK(influence_of(weight, memo)->slope == Approx((graph.weigh(claim, options).support - weight.support) / .01).epsilon(.02));
}

TEST_CASE("a what-if is the same as a graph in which it is so", "[weigher]") {
    for (const double reliability : {0.0, .2, .55, .97}) {
        SmallGraph asked, changed;
        for (SmallGraph* const graph : {&asked, &changed}) {
            const Claim a = graph->claim(modeller, "person:a"), b = graph->claim(modeller, "person:b");
            Source& memo = graph->source("memo", graph == &asked ? .8 : reliability);
            memo.family = "office";
            memo.family_kind = "circle";
            Source& ledger = graph->source("ledger", .6);
            ledger.family = "office";
            ledger.family_kind = "circle";
            graph->reading(a, "memo");
            graph->reading(b, "memo", "perhaps not");
            graph->reading(a, "ledger");
            graph->reading(b, "ledger", "probably");
            graph->write();
        }
        const Claim a = asked.claim(modeller, "person:a");
        WeighOptions options;
        options.what_if["source:memo"] = reliability;
        CHECK(asked.weigh(a, options).masses.for_only == Approx(changed.weigh(a).masses.for_only).margin(1e-12));
        CHECK(asked.weigh(a, options).masses.both == Approx(changed.weigh(a).masses.both).margin(1e-12));
        CHECK(asked.weigh(a).masses.for_only != Approx(changed.weigh(a).masses.for_only).margin(1e-12));
    }
}

TEST_CASE("evidence can be left out of a question", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    const Evidence first = graph.witness(claim, .8);
    graph.witness(claim, .5);
    graph.write();
    WeighOptions options;
    options.without = {id_of(first)};
    CHECK(graph.weigh(claim, options).support == Approx(.5));
    CHECK(graph.weigh(claim).support == Approx(.9));
}

TEST_CASE("a source that cannot be judged is no basis, and says so", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    Source& rumour = graph.source("rumour", .5);
    rumour.reliability.reset();
    rumour.grade = "cannot-be-judged";
    graph.reading(claim, "rumour");
    graph.source("letter", .8);
    graph.reading(claim, "letter", "perhaps");
    graph.write();
    const Weight weight = graph.weigh(claim);
    CHECK(weight.masses == Masses{0, 0, 0, 1});
    CHECK(weight.roots_for == 0);
    REQUIRE(weight.readings.size() == 2);
    for (const ReadingShown& reading : weight.readings) CHECK(reading.role == ReadingShown::Role::no_basis);
}

TEST_CASE("grades, letters and numbers all set the reliability, below the cap", "[weigher]") {
    const auto support_with = [](const std::string& type, const std::string& grade, std::optional<double> reliability) {
        SmallGraph graph;
        const Claim claim = graph.claim(decoration, "treatment:blue");
        Source& source = graph.source("s", .5);
        source.type = type;
        source.grade = grade;
        source.reliability = reliability;
        graph.reading(claim, "s");
        graph.write();
        return graph.weigh(claim).support;
    };
    CHECK(support_with("journal", "", {}) == Approx(.90));
    CHECK(support_with("journal", "", .99) == Approx(.95));   // cap of a works record
    CHECK(support_with("guide", "", {}) == Approx(.65));
    CHECK(support_with("guide", "B", {}) == Approx(.80));
    CHECK(support_with("guide", ".7", {}) == Approx(.70));
    CHECK(support_with("guide", ".97", {}) == Approx(.85));   // cap of later work
    CHECK(support_with("recollection", "", {}) == Approx(.50));
    CHECK(support_with("", "", {}) == Approx(.50));
    CHECK(support_with("", "", 1.0) == Approx(.98));
}

TEST_CASE("an indirect reading counts half, a probable denial counts against", "[weigher]") {
    SmallGraph graph;
    const Claim indirect = graph.claim(decoration, "treatment:a"), denied = graph.claim(decoration, "treatment:b"),
                doubted = graph.claim(decoration, "treatment:c");
    for (const char* key : {"x", "y", "z"}) graph.source(key, .8);
    Evidence heard;
    heard.claim = id_of(indirect);
    heard.source = "source:x";
    heard.reading = "indirect";
    graph.add(heard);
    graph.reading(denied, "y", "probably", Stance::against);
    graph.reading(doubted, "z", "probably not");
    graph.write();
    CHECK(graph.weigh(indirect).support == Approx(.4));
    CHECK(graph.weigh(denied).masses.against_only == Approx(.4));
    CHECK(graph.weigh(doubted).masses.against_only == Approx(.4));
}

TEST_CASE("silence counts only as far as a mention was to be expected", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim("comprises", "article:tureen");
    graph.source("catalogue", .8);
    Evidence silence;
    silence.claim = id_of(claim);
    silence.source = "source:catalogue";
    silence.stance = Stance::against;
    silence.mention = .5;
    graph.add(silence);
    graph.write();
    CHECK(graph.weigh(claim).masses.against_only == Approx(.4));
}

TEST_CASE("unknown sources and impossible what-ifs are refused", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    graph.witness(claim, .8);
    graph.write();
    WeighOptions options;
    options.what_if["source:nobody"] = .5;
    CHECK_THROWS_AS(graph.weigh(claim, options), UsageFault);
    options.what_if = {{"source:witness-0", 1.5}};
    CHECK_THROWS_AS(graph.weigh(claim, options), UsageFault);
    CHECK_THROWS_AS(graph.weigher().weigh(ClaimRef{EntityId{1}, RelationId{1}, 999}), UsageFault);
}

TEST_CASE("no chain never holds; an empty chain always does", "[weigher]") {
    SmallGraph graph;
    graph.witness(graph.claim(decoration, "treatment:blue"), .8);
    graph.write();
    CHECK(graph.joint({}).raw == 0);
    CHECK(graph.joint({{}}).raw == 1);
}

TEST_CASE("without a source a claim weighs what it weighs when all that was read in it is withdrawn, bit for bit", "[weigher]") {
    SmallGraph graph;
    const Claim listed = graph.claim(decoration, "treatment:blue"), left_out = graph.claim(decoration, "treatment:red");
    graph.source("book", .8).family = "circle";
    graph.source("friend", .6).family = "circle";
    graph.source("copier", .7).copied_from = {{"source:book", 1, .9}};
    const Evidence read = graph.reading(listed, "book"), denied = graph.against(left_out, "book");
    graph.reading(left_out, "friend");
    graph.reading(listed, "copier");
    Listing list;
    list.source = "source:book";
    list.subject = "shape:it";
    list.relation = decoration;
    list.completeness = .9;
    graph.add(list);
    graph.write();
    WeighOptions without;
    without.without_sources = {"source:book"};
    const Weight listed_without = graph.weigh(listed, without), left_out_without = graph.weigh(left_out, without);
    const JointWeight both_without = graph.joint({{listed, left_out}}, without);
    const double standing = graph.weigh(left_out).support;
    CHECK(left_out_without.support > standing);
    CHECK(left_out_without.grounds_against.empty());
    // What copies the source still goes back to it, so it is worth what the source is; with a worthless source it falls too.
    CHECK(listed_without.support == Approx(.8 * .9));
    WeighOptions worthless;
    worthless.what_if = {{"source:book", 0}};
    CHECK(graph.weigh(listed, worthless).support == 0);

    for (const ContentId& id : {id_of(read), id_of(denied), id_of(list)}) graph.add(Withdrawal{id, "as a test"});
    graph.write();
    CHECK(graph.weigh(listed).masses == listed_without.masses);
    CHECK(graph.weigh(left_out).masses == left_out_without.masses);
    CHECK(graph.joint({{listed, left_out}}).conditioned == both_without.conditioned);
}

TEST_CASE("a source that is not there cannot be left out", "[weigher]") {
    SmallGraph graph;
    const Claim claim = graph.claim(decoration, "treatment:blue");
    graph.witness(claim, .6);
    graph.write();
    WeighOptions options;
    options.without_sources = {"source:nobody"};
    CHECK_THROWS_AS(graph.weigh(claim, options), UsageFault);
}
