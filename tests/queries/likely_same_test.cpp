#include "queries/likely_same.h"

#include <catch2/catch.hpp>

#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

void name(SmallGraph& graph, const std::string& key, const std::string& label, const std::vector<std::string>& also = {}) {
    Entity entity;
    entity.key = key;
    entity.label.text = label;
    for (const std::string& text : also) entity.also.push_back({text, ""});
    graph.add(entity);
}

using Keys = std::vector<std::pair<std::string, std::string>>;

Keys keys(SmallGraph& graph, const LikelySameQuestion& question = {}) {
    Keys found;
    for (const LikelySame& pair : likely_same(graph.snapshot(), question))
        found.emplace_back(graph.snapshot().key_of(pair.one), graph.snapshot().key_of(pair.other));
    return found;
}

}  // namespace

TEST_CASE("folded names propose a pair, of one kind only", "[same]") {
    SmallGraph graph;
    name(graph, "company:wrenholt", "Wrenholt & Fils");
    name(graph, "company:wrenholt-2", "Gebrüder W.", {"WRENHOLT  FILS"});
    name(graph, "person:wrenholt", "Wrenholt & Fils");
    name(graph, "company:other", "Other");
    graph.write();
    CHECK(keys(graph) == Keys{{"company:wrenholt", "company:wrenholt-2"}});
    name(graph, "company:harm", "Harm and Sand");
    name(graph, "company:harm-2", "Harm &amp; Sand");
    name(graph, "company:sandand", "Harm Sandand");
    graph.write();
    CHECK(keys(graph) == Keys{{"company:harm", "company:harm-2"}, {"company:wrenholt", "company:wrenholt-2"}});
}

TEST_CASE("a shared number proposes a pair", "[same]") {
    SmallGraph graph;
    graph.witness(graph.claim("numbered", "H317", "treatment:rope", Value::Type::text), .9);
    graph.witness(graph.claim("numbered", "h317", "treatment:gull", Value::Type::text), .9);
    graph.witness(graph.claim("numbered", "H318", "treatment:net", Value::Type::text), .9);
    graph.write();
    CHECK(keys(graph) == Keys{{"treatment:gull", "treatment:rope"}});
}

TEST_CASE("sharing most neighbours proposes a pair; differing where only one can hold lowers it", "[same]") {
    SmallGraph graph;
    for (const char* shape : {"shape:tern", "shape:tern-ware"})
        for (const char* article : {"article:plate", "article:cup", "article:jug"}) graph.witness(graph.claim("comprises", article, shape), .9);
    graph.write();
    CHECK(keys(graph) == Keys{{"shape:tern", "shape:tern-ware"}});
    const double before = likely_same(graph.snapshot())[0].score;
    graph.witness(graph.claim("modelled-by", "person:a", "shape:tern"), .9);
    graph.witness(graph.claim("modelled-by", "person:b", "shape:tern-ware"), .9);
    graph.write();
    REQUIRE(likely_same(graph.snapshot()).size() == 1);
    CHECK(likely_same(graph.snapshot())[0].differ == std::vector<std::string>{"modelled-by"});
    CHECK(likely_same(graph.snapshot())[0].score < before);
}

TEST_CASE("what has been ruled on, either way, is not proposed again; withdrawing the ruling proposes it again", "[same]") {
    for (const auto decision : {Ruling::Decision::accepted, Ruling::Decision::rejected}) {
        SmallGraph graph;
        name(graph, "company:a", "Esk");
        name(graph, "company:b", "Esk");
        const Claim claim = graph.claim("same-as", "company:b", "company:a");
        graph.witness(claim, .9);
        graph.write();
        CHECK(keys(graph).size() == 1);
        const Ruling ruling = graph.add(Ruling{id_of(claim), decision, "seen", {}, "tester", "2026-01-03", false});
        graph.write();
        CHECK(keys(graph).empty());
        graph.add(Withdrawal{id_of(ruling), "too quick"});
        graph.write();
        CHECK(keys(graph).size() == 1);
    }
}

TEST_CASE("private things are proposed only where asked for", "[same]") {
    SmallGraph graph;
    name(graph, "person:a", "Owner");
    Entity hidden;
    hidden.key = "person:b";
    hidden.label.text = "Owner";
    hidden.is_private = true;
    graph.add(hidden);
    graph.write();
    CHECK(keys(graph).size() == 1);
    LikelySameQuestion question;
    question.with_private = false;
    CHECK(keys(graph, question).empty());
}
