// Comparisons: six states that are never mixed up. All names are invented.
#include "queries/compare.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <map>

#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/compare_json.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using saggar::testing::SmallGraph;

namespace {

CompareAnswer compared(SmallGraph& graph, const std::vector<std::string>& keys, CompareQuestion question = {}) {
    for (const std::string& key : keys) question.things.push_back(graph.snapshot().need(key));
    return compare(graph.snapshot(), graph.weigher(), question);
}

const ComparedRelation* relation_in(const CompareAnswer& answer, const std::string& name) {
    for (const ComparedRelation& relation : answer.relations)
        if (relation.name == name) return &relation;
    return nullptr;
}

// "has never unknown" of one object.
std::string standings(const CompareAnswer& answer, const std::string& relation, const std::string& label) {
    const ComparedRelation* its = relation_in(answer, relation);
    if (!its) return "no such relation";
    for (const ComparedObject& object : its->objects) {
        if (object.label != label) continue;
        std::string words;
        for (const Cell& cell : object.cells) words += (words.empty() ? "" : " ") + word_for(cell.standing);
        return words;
    }
    return "no such object";
}

// A list of everything under a relation.
Listing list_of(SmallGraph& graph, const std::string& subject, const std::string& source, double completeness = 1) {
    Listing list;
    list.subject = subject;
    list.relation = "comprises";
    list.source = "source:" + source;
    list.completeness = completeness;
    return graph.add(list);
}

}  // namespace

TEST_CASE("never, not known, too little and disputed are told apart", "[compare]") {
    SmallGraph graph;
    const auto of = [&](const char* shape, const char* article) { return graph.claim("comprises", article, shape); };
    graph.witness(of("shape:a", "article:teapot"), .9);
    graph.witness(of("shape:b", "article:teapot"), .9);
    graph.witness(of("shape:c", "article:teapot"), .9);
    graph.witness(of("shape:a", "article:jug"), .9);
    graph.witness(of("shape:b", "article:jug"), .8, Stance::against);   // denied
    const Claim tureen = of("shape:a", "article:tureen");
    graph.witness(tureen, .9);
    graph.witness(tureen, .7, Stance::against);                          // disputed
    graph.witness(of("shape:b", "article:tureen"), .3);                  // a rumour
    for (const char* shape : {"shape:a", "shape:b", "shape:c"}) graph.witness(of(shape, "article:posset"), .9, Stance::against);
    graph.write();
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b", "shape:c"});
    CHECK(standings(answer, "comprises", "article:teapot") == "has has has");
    CHECK(standings(answer, "comprises", "article:jug") == "has never unknown");
    CHECK(standings(answer, "comprises", "article:tureen") == "disputed weak unknown");
    CHECK(standings(answer, "comprises", "article:posset") == "never never never");
    // What is asked of the limits: at .95 a reading of .9 is too little either way.
    CompareQuestion strict;
    strict.supported = .95;
    CHECK(standings(compared(graph, {"shape:a", "shape:b", "shape:c"}, strict), "comprises", "article:jug") == "weak weak unknown");
    strict.supported = .4;
    CHECK_THROWS_AS(compared(graph, {"shape:a", "shape:b"}, strict), UsageFault);
    // The cells carry their claims and sources.
    const ComparedObject& jug = relation_in(answer, "comprises")->objects[0];
    REQUIRE(jug.label == "article:jug");
    CHECK(jug.cells[0].cited_for.size() == 1);
    CHECK(jug.cells[0].cited_against.empty());
    CHECK(jug.cells[1].cited_against.size() == 1);
    CHECK(jug.cells[2].claims.empty());
}

TEST_CASE("a list of everything makes silence speak, inside its scope and nowhere else", "[compare]") {
    SmallGraph graph;
    graph.source("order-list", .9);
    graph.reading(graph.claim("comprises", "article:teapot", "shape:a"), "order-list");
    list_of(graph, "shape:a", "order-list");
    graph.witness(graph.claim("comprises", "article:jug", "shape:b"), .9);
    graph.witness(graph.claim("comprises", "article:teapot", "shape:c"), .9);
    graph.write();
    CompareAnswer answer = compared(graph, {"shape:a", "shape:b", "shape:c"});
    CHECK(standings(answer, "comprises", "article:jug") == "never has unknown");  // nobody has claimed it of a or c
    CHECK(standings(answer, "comprises", "article:teapot") == "has unknown has");
    const Cell& cell = relation_in(answer, "comprises")->objects[0].cells[0];
    CHECK(cell.claims.empty());
    REQUIRE(cell.cited_against.size() == 1);
    CHECK(cell.cited_against[0].is_list);
    REQUIRE(cell.masses);
    CHECK(cell.masses->against_only == Approx(.9));
    // Half complete, it carries .45 against: too little.
    SmallGraph half;
    half.source("order-list", .9);
    half.reading(half.claim("comprises", "article:teapot", "shape:a"), "order-list");
    list_of(half, "shape:a", "order-list", .5);
    half.witness(half.claim("comprises", "article:jug", "shape:b"), .9);
    half.write();
    CHECK(standings(compared(half, {"shape:a", "shape:b"}), "comprises", "article:jug") == "weak has");
}

TEST_CASE("one buyer's piece is not everybody's, and a denial for one buyer denies nothing else", "[compare]") {
    SmallGraph graph;
    Claim special{"shape:a", "comprises", {Value::Type::entity, "article:tureen", ""}, "line:galley", "", false};
    graph.add(special);
    graph.witness(special, .9);
    Claim none_for_them{"shape:b", "comprises", {Value::Type::entity, "article:tureen", ""}, "line:galley", "", false};
    graph.add(none_for_them);
    graph.witness(none_for_them, .9, Stance::against);
    graph.write();
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b"});
    CHECK(standings(answer, "comprises", "article:tureen") == "limited unknown");
    CHECK(relation_in(answer, "comprises")->objects[0].cells[0].limits == "for line:galley");
    // A denial for all beside it: the buyer's piece is still there.
    graph.witness(graph.claim("comprises", "article:tureen", "shape:a"), .9, Stance::against);
    graph.write();
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "comprises", "article:tureen") == "limited unknown");
}

TEST_CASE("a ruling settles a disputed cell until new evidence makes it stale", "[compare]") {
    SmallGraph graph;
    const Claim tureen = graph.claim("comprises", "article:tureen", "shape:a");
    const Evidence yes = graph.witness(tureen, .9), no = graph.witness(tureen, .8, Stance::against);
    graph.witness(graph.claim("comprises", "article:tureen", "shape:b"), .9);
    graph.write();
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "comprises", "article:tureen") == "disputed has");
    std::vector<ContentId> looked_at{id_of(yes), id_of(no)};
    std::sort(looked_at.begin(), looked_at.end());
    const Ruling ruling{id_of(tureen), Ruling::Decision::rejected, "the lug", looked_at, "tester", "2026-01-02", false};
    graph.add(ruling);
    graph.write();
    const CompareAnswer ruled = compared(graph, {"shape:a", "shape:b"});
    CHECK(standings(ruled, "comprises", "article:tureen") == "never has");
    CHECK(relation_in(ruled, "comprises")->objects[0].cells[0].by_ruling);
    CHECK(relation_in(ruled, "comprises")->objects[0].cells[0].masses->both == Approx(.72));  // the weight stays what it is
    graph.witness(tureen, .6);
    graph.write();
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "comprises", "article:tureen") == "disputed has");
}

TEST_CASE("accepted identities are one thing and one object", "[compare]") {
    SmallGraph graph;
    graph.witness(graph.claim("treated-with", "treatment:blue", "shape:a"), .9);
    graph.witness(graph.claim("treated-with", "treatment:azure", "shape:b"), .9);
    graph.witness(graph.claim("treated-with", "treatment:red", "shape:b-also"), .9);
    const Claim colours = graph.claim("same-as", "treatment:blue", "treatment:azure");
    const Claim shapes = graph.claim("same-as", "shape:b-also", "shape:b");
    graph.witness(colours, .9);
    graph.witness(shapes, .9);
    graph.write();
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "treated-with", "treatment:azure") == "unknown has");
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "treated-with", "treatment:red") == "no such object");
    const std::string before = to_json(compared(graph, {"shape:a", "shape:b"}), graph.snapshot(), true).dump();
    const Ruling rulings[] = {{id_of(colours), Ruling::Decision::accepted, "one blue", {}, "tester", "2026-01-02", false},
                              {id_of(shapes), Ruling::Decision::accepted, "one shape", {}, "tester", "2026-01-02", false}};
    for (const Ruling& ruling : rulings) graph.add(ruling);
    graph.write();
    CompareAnswer merged = compared(graph, {"shape:a", "shape:b"});
    CHECK(standings(merged, "treated-with", "treatment:azure") == "has has");
    CHECK(standings(merged, "treated-with", "treatment:blue") == "no such object");
    CHECK(standings(merged, "treated-with", "treatment:red") == "unknown has");
    // The identity's own doubt is part of it.
    CHECK(relation_in(merged, "treated-with")->objects[0].cells[0].masses->for_only == Approx(.9 * .9));
    CHECK_THROWS_AS(compared(graph, {"shape:b", "shape:b-also"}), UsageFault);
    CHECK(compared(graph, {"shape:a", "shape:b", "shape:b-also"}).things.size() == 2);
    // Parted again, everything is as it was.
    for (const Ruling& ruling : rulings) graph.add(Withdrawal{id_of(ruling), "two after all"});
    graph.write();
    CHECK(to_json(compared(graph, {"shape:a", "shape:b"}), graph.snapshot(), true).dump() == before);
}

TEST_CASE("what is withdrawn is gone, and an earlier entry still has it", "[compare]") {
    SmallGraph graph;
    const Claim jug = graph.claim("comprises", "article:jug", "shape:a");
    graph.witness(jug, .9);
    graph.witness(graph.claim("comprises", "article:jug", "shape:b"), .9);
    graph.write();
    const std::uint64_t before = graph.snapshot().entry();
    graph.add(Withdrawal{id_of(jug), "misread"});
    graph.write();
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "comprises", "article:jug") == "unknown has");
    const auto earlier = graph.store().snapshot(before);
    Weigher weigher(*earlier);
    CompareQuestion question;
    question.things = {earlier->need("shape:a"), earlier->need("shape:b")};
    CHECK(standings(compare(*earlier, weigher, question), "comprises", "article:jug") == "has has");
}

TEST_CASE("what is private is passed over, and counted, unless it is asked for", "[compare]") {
    SmallGraph graph;
    Claim secret{"shape:a", "comprises", {Value::Type::entity, "article:jug", ""}, "", "", true};
    graph.add(secret);
    graph.witness(secret, .9);
    graph.witness(graph.claim("comprises", "article:jug", "shape:b"), .9);
    graph.write();
    CompareQuestion open;
    open.with_private = false;
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b"}, open);
    CHECK(standings(answer, "comprises", "article:jug") == "unknown has");
    CHECK(answer.hidden == 1);
    CHECK(standings(compared(graph, {"shape:a", "shape:b"}), "comprises", "article:jug") == "has has");
    const std::string json = to_json(answer, graph.snapshot(), false).dump();
    CHECK(json.find(id_of(secret).full()) == std::string::npos);
}

TEST_CASE("relations are read backwards where that says something, and any by name", "[compare]") {
    SmallGraph graph;
    graph.witness(graph.claim("designed-by", "person:p", "shape:a"), .9);
    graph.witness(graph.claim("designed-by", "person:q", "shape:a"), .9);
    graph.witness(graph.claim("modelled-by", "person:p", "shape:b"), .9);
    graph.witness(graph.claim("looks-like", "shape:b", "shape:a"), .9);
    graph.witness(graph.claim("numbered", "A 1", "shape:a", Value::Type::text), .9);
    graph.witness(graph.claim("numbered", "A 1", "shape:b", Value::Type::text), .9);
    graph.witness(graph.claim("introduced-in", "1936", "shape:b", Value::Type::date), .9);
    graph.write();
    const CompareAnswer people = compared(graph, {"person:p", "person:q"});
    CHECK(standings(people, "designed", "shape:a") == "has has");
    CHECK_FALSE(relation_in(people, "modelled"));  // nobody shares a model
    CHECK(people.not_read == std::vector<std::string>{"modelled"});
    CompareQuestion named;
    named.relations = {"modelled"};
    CHECK(standings(compared(graph, {"person:p", "person:q"}, named), "modelled", "shape:b") == "has never");  // a shape has one modeller
    const CompareAnswer shapes = compared(graph, {"shape:a", "shape:b"});
    CHECK(standings(shapes, "numbered", "A 1") == "has has");
    CHECK(standings(shapes, "looks-like", "shape:b") == "has unknown");
    CHECK(standings(shapes, "looks-like", "shape:a") == "unknown has");  // symmetric
    CHECK_FALSE(relation_in(shapes, "introduced-in"));
    for (const char* wrong : {"introduced-in", "same-as", "no-such-thing", "held-by"}) {
        named.relations = {wrong};
        INFO(wrong);
        CHECK_THROWS_AS(compared(graph, {"shape:a", "shape:b"}, named), UsageFault);
    }
}

TEST_CASE("one thing, the same thing twice, and things without anything in common are refused", "[compare]") {
    SmallGraph graph;
    graph.witness(graph.claim("comprises", "article:jug", "shape:a"), .9);
    graph.witness(graph.claim("held-by", "archive:z", "source:s"), .9);
    graph.write();
    CHECK_THROWS_AS(compared(graph, {}), UsageFault);
    CHECK_THROWS_AS(compared(graph, {"shape:a"}), UsageFault);
    CHECK_THROWS_AS(compared(graph, {"shape:a", "shape:a"}), UsageFault);
    CHECK_NOTHROW(compared(graph, {"shape:a", "article:jug"}));  // both can have features
    CHECK_THROWS_AS(compared(graph, {"article:jug", "archive:z"}), UsageFault);
}

TEST_CASE("what exclusive rivals quarrel about is no quarrel about a third", "[compare]") {
    SmallGraph graph;
    graph.witness(graph.claim("modelled-by", "person:p", "shape:a"), .9);
    graph.witness(graph.claim("modelled-by", "person:q", "shape:a"), .8);
    graph.witness(graph.claim("modelled-by", "person:r", "shape:b"), .9);
    graph.write();
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b"});
    CHECK(standings(answer, "modelled-by", "person:p") == "disputed never");
    CHECK(standings(answer, "modelled-by", "person:r") == "never has");  // nobody says it of a
}

TEST_CASE("concepts are made of what is had, and of nothing else", "[compare]") {
    SmallGraph graph;
    const auto of = [&](const char* shape, const char* article) { return graph.claim("comprises", article, shape); };
    for (const char* shape : {"shape:a", "shape:b", "shape:c"}) graph.witness(of(shape, "article:teapot"), .9);
    graph.witness(of("shape:a", "article:jug"), .9);
    graph.witness(of("shape:b", "article:jug"), .9);
    graph.witness(of("shape:c", "article:jug"), .3);  // too little
    graph.write();
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b", "shape:c"});
    REQUIRE(answer.concepts.found.size() == 2);
    CHECK(answer.concepts.found[0].things.size() == 3);
    CHECK(answer.concepts.found[1].things == std::vector<std::size_t>{0, 1});
    CHECK(answer.concepts.found[1].features.size() == 2);
    CHECK(compared(graph, {"shape:a", "shape:b"}).concepts.found.empty());
}

TEST_CASE("thousands of features are compared, and beyond the room a relation is left out and named", "[compare]") {
    SmallGraph graph;
    graph.source("book", .9);
    for (int i = 0; i < 3'000; ++i) {
        graph.reading(graph.claim("has-feature", "feature:f" + std::to_string(i), "shape:a"), "book");
        if (i % 2) graph.reading(graph.claim("has-feature", "feature:f" + std::to_string(i), "shape:b"), "book");
    }
    graph.write();
    CompareQuestion question;
    question.figures = false;
    const CompareAnswer answer = compared(graph, {"shape:a", "shape:b"}, question);
    REQUIRE(relation_in(answer, "has-feature"));
    CHECK(relation_in(answer, "has-feature")->objects.size() == 3'000);
    question.most_cells = 100;
    CHECK(compared(graph, {"shape:a", "shape:b"}, question).cut == std::vector<std::string>{"has-feature"});
}
