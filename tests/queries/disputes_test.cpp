#include "queries/disputes.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "kg/weigh/sides.h"
#include "queries/disputes_json.h"
#include "queries/privacy.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

DisputesAnswer ask(SmallGraph& graph, const DisputesQuestion& question = {}) {
    return disputes(graph.snapshot(), graph.weigher(), question);
}

using Kinds = std::set<DisputeKind>;

std::vector<ClaimRef> views(const Dispute& dispute) {
    std::vector<ClaimRef> claims;
    for (const DisputeView& view : dispute.views) claims.push_back(view.weight.claim);
    return claims;
}

Claim dated(SmallGraph& graph, const std::string& relation, const std::string& date, const std::string& subject = "shape:it") {
    return graph.claim(relation, date, subject, Value::Type::date);
}

// An identity claim with a reading and a ruling that accepts it.
Claim same(SmallGraph& graph, const std::string& a, const std::string& b, double reliability) {
    const Claim claim = graph.claim("same-as", b, a);
    graph.witness(claim, reliability);
    graph.add(Ruling{id_of(claim), Ruling::Decision::accepted, "one hand", {}, "tester", "2026-01-02", false});
    return claim;
}

}  // namespace

TEST_CASE("readings for and against one claim are a dispute with two sides", "[disputes]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:blue-rim");
    graph.witness(claim, .9);
    graph.witness(claim, .9, Stance::against);
    graph.witness(graph.claim("treated-with", "treatment:plain"), .9);
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 1);
    const Dispute& dispute = answer.disputes[0];
    CHECK(dispute.kinds == Kinds{DisputeKind::two_sided});
    CHECK(views(dispute) == std::vector{graph.ref(claim)});
    CHECK(dispute.both == Approx(.81));  // Shafer 1990: two flatly opposed witnesses
    CHECK(dispute.views[0].weight.support == Approx(.4737).margin(.0001));
    CHECK(dispute.views[0].weight.roots_for == 1);
    CHECK(dispute.views[0].weight.roots_against == 1);
    CHECK_FALSE(dispute.settled);
}

TEST_CASE("words that turn a reading round count for the other side", "[disputes]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:blue-rim");
    graph.witness(claim, .9);
    graph.source("doubter", .8);
    graph.reading(claim, "doubter", "probably not");
    const Claim agreed = graph.claim("treated-with", "treatment:plain");
    graph.witness(agreed, .9);
    graph.source("also", .8);
    graph.reading(agreed, "also", "probably");
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 1);
    CHECK(views(answer.disputes[0]) == std::vector{graph.ref(claim)});
}

TEST_CASE("rivals under an at-most-one relation are one dispute, the most supported first", "[disputes]") {
    SmallGraph graph;
    const Claim wrenholt = graph.claim("modelled-by", "person:wrenholt");
    const Claim ennersley = graph.claim("modelled-by", "person:ennersley");
    const Claim elsewhere = graph.claim("modelled-by", "person:wrenholt", "shape:other");
    graph.witness(wrenholt, .6);
    graph.witness(ennersley, .9);
    graph.witness(elsewhere, .9);
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 1);
    CHECK(answer.disputes[0].kinds == Kinds{DisputeKind::rivals});
    CHECK(views(answer.disputes[0]) == std::vector{graph.ref(ennersley), graph.ref(wrenholt)});
    CHECK(answer.disputes[0].both == Approx(.54));
}

TEST_CASE("rivals for different scopes or times do not quarrel", "[disputes]") {
    SmallGraph graph;
    Claim home = graph.claim("commissioned-by", "company:a", "line:it");
    const auto in_scope = [&](const std::string& object, const std::string& scope, const std::string& when) {
        Claim claim{"line:it", "commissioned-by", {Value::Type::entity, object, ""}, scope, when, false};
        graph.add(claim);
        graph.witness(claim, .9);
    };
    in_scope("company:b", "place:north", "");
    in_scope("company:c", "place:south", "");
    in_scope("company:d", "place:east", "1930/1935");
    in_scope("company:e", "place:east", "1936/1940");
    graph.write();
    CHECK(ask(graph).disputes.empty());
    graph.witness(home, .5);  // everywhere and always: a rival of all
    graph.write();
    REQUIRE(ask(graph).disputes.size() == 1);
    CHECK(ask(graph).disputes[0].views.size() == 5);
}

TEST_CASE("a list that leaves out what somebody has seen is in dispute with him", "[disputes]") {
    SmallGraph graph;
    const Claim tureen = graph.claim("comprises", "article:tureen");
    const Claim plate = graph.claim("comprises", "article:plate");
    graph.witness(tureen, .5);
    graph.source("list", .9);
    graph.reading(plate, "list");
    Listing list;
    list.source = "source:list";
    list.subject = "shape:it";
    list.relation = "comprises";
    list.completeness = .9;
    graph.add(list);
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 1);
    CHECK(answer.disputes[0].kinds == Kinds{DisputeKind::list});
    CHECK(views(answer.disputes[0]) == std::vector{graph.ref(tureen)});
    CHECK(answer.disputes[0].views[0].weight.support == Approx(.160).margin(.0005));  // derived in the specification of weighing
    CHECK(answer.disputes[0].both == Approx(.405).margin(.0005));
}

TEST_CASE("dates that cannot meet are in dispute, dates that can are not", "[disputes]") {
    SmallGraph graph;
    const Claim early = dated(graph, "introduced-in", "1936");
    const Claim late = dated(graph, "introduced-in", "1938");
    const Claim vague = dated(graph, "introduced-in", "193X");
    const Claim about = dated(graph, "introduced-in", "1940~", "shape:other");  // five years on either side, by convention
    const Claim near = dated(graph, "introduced-in", "1943", "shape:other");
    for (const Claim& claim : {early, late, vague, about, near}) graph.witness(claim, .9);
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 1);
    CHECK(answer.disputes[0].kinds == Kinds{DisputeKind::dates});
    CHECK(answer.disputes[0].both == Approx(.81));
    CHECK(answer.disputes[0].views.size() == 2);
}

TEST_CASE("a date that breaks a time order is in dispute with the claims that tie it", "[disputes]") {
    SmallGraph graph;
    const Claim made = dated(graph, "made-in-year", "1933", "piece:pot");
    const Claim modelled = dated(graph, "modelled-in", "1935", "shape:it");
    const Claim is_one = graph.claim("instance-of", "shape:it", "piece:pot");
    graph.witness(made, .9);
    graph.witness(modelled, .8);
    graph.witness(is_one, .5);
    graph.write();
    for (const auto thing : {std::optional<EntityId>(), std::optional(graph.snapshot().need("shape:it")),
                             std::optional(graph.snapshot().need("piece:pot"))}) {
        DisputesQuestion question;
        question.thing = thing;
        const DisputesAnswer answer = ask(graph, question);
        REQUIRE(answer.disputes.size() == 1);
        REQUIRE(answer.disputes[0].clashes.size() == 1);
        const DisputeClash& clash = answer.disputes[0].clashes[0];
        CHECK(clash.clash.dated == graph.ref(made));
        CHECK(clash.clash.others == std::vector{graph.ref(is_one), graph.ref(modelled)});
        CHECK(clash.joint == Approx(.9 * .8 * .5));
        CHECK(answer.disputes[0].both == Approx(clash.joint));
    }
}

TEST_CASE("an identity with a reading against it is a quarrel of its own kind", "[disputes]") {
    SmallGraph graph;
    const Claim claim = graph.claim("same-as", "company:b", "company:a");
    graph.witness(claim, .6);
    graph.witness(claim, .6, Stance::against);
    graph.write();
    REQUIRE(ask(graph).disputes.size() == 1);
    CHECK(ask(graph).disputes[0].kinds == Kinds{DisputeKind::identity});
}

TEST_CASE("an accepted identity makes rivals of claims about either name; from either name it is one dispute", "[disputes]") {
    SmallGraph graph;
    const Claim here = graph.claim("modelled-by", "person:a", "shape:pinnace");
    const Claim there = graph.claim("modelled-by", "person:b", "shape:pinnace-ware");
    graph.witness(here, .9);
    graph.witness(there, .9);
    graph.write();
    CHECK(ask(graph).disputes.empty());
    const Claim identity = same(graph, "shape:pinnace", "shape:pinnace-ware", .5);
    graph.write();
    DisputesQuestion question;
    for (const char* name : {"", "shape:pinnace", "shape:pinnace-ware"}) {
        if (*name) question.thing = graph.snapshot().need(name);
        const DisputesAnswer answer = ask(graph, question);
        REQUIRE(answer.disputes.size() == 1);
        CHECK(answer.disputes[0].kinds == Kinds{DisputeKind::rivals, DisputeKind::identity});
        CHECK(answer.disputes[0].both == Approx(.9 * .9 * .5));  // only as far as they are one
    }
    const ContentId ruling = graph.snapshot().rulings(graph.ref(identity))[0].id;
    graph.add(Withdrawal{ruling, "two hands after all"});
    graph.write();
    CHECK(ask(graph).disputes.empty());
}

TEST_CASE("two names of one object are no rivals once the identity is accepted", "[disputes]") {
    SmallGraph graph;
    const Claim one = graph.claim("modelled-by", "person:m-ennersley");
    const Claim other = graph.claim("modelled-by", "person:maud-ennersley");
    graph.witness(one, .9);
    graph.witness(other, .8);
    graph.write();
    CHECK(ask(graph).disputes.size() == 1);
    same(graph, "person:m-ennersley", "person:maud-ennersley", .9);
    graph.write();
    CHECK(ask(graph).disputes.empty());
}

TEST_CASE("the same claim the other way round, or under another name, is the other side", "[disputes]") {
    SmallGraph graph;
    const Claim turned = graph.claim("looks-like", "shape:orlop", "shape:tern"), denied = graph.claim("looks-like", "shape:tern", "shape:orlop");
    graph.witness(turned, .9);
    graph.witness(denied, .8, Stance::against);
    const Claim named = graph.claim("treated-with", "treatment:a", "shape:pinnace"), otherwise = graph.claim("treated-with", "treatment:a", "shape:pinnace-ware");
    graph.witness(named, .9);
    graph.witness(otherwise, .8, Stance::against);
    same(graph, "shape:pinnace", "shape:pinnace-ware", .5);
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 2);
    CHECK(answer.disputes[0].both == Approx(.72));
    CHECK(answer.disputes[1].both == Approx(.9 * .5 * .8));
}

TEST_CASE("what more claims rest on comes first", "[disputes]") {
    SmallGraph graph;
    const Claim lonely = graph.claim("treated-with", "treatment:a", "piece:pot");
    const Claim premise = graph.claim("comprises", "article:tureen", "shape:tern");
    for (const Claim& claim : {lonely, premise}) {
        graph.witness(claim, .7);
        graph.witness(claim, .7, Stance::against);
    }
    const Claim follows = graph.claim("has-feature", "feature:lid", "shape:tern");
    const Claim follows_on = graph.claim("looks-like", "shape:orlop", "shape:tern");
    graph.argument({premise}, follows);
    graph.argument({follows}, follows_on);
    graph.witness(graph.claim("instance-of", "shape:tern", "piece:dish"), .9);  // a chain that passes the dispute
    graph.write();
    const DisputesAnswer answer = ask(graph);
    REQUIRE(answer.disputes.size() == 2);
    CHECK(views(answer.disputes[0]) == std::vector{graph.ref(premise)});
    CHECK(answer.disputes[0].resting == 3);
    CHECK(answer.disputes[1].resting == 0);
}

TEST_CASE("disputes by thing, source, kind, size and state", "[disputes]") {
    SmallGraph graph;
    const Claim slight = graph.claim("treated-with", "treatment:a", "piece:pot");
    graph.source("memo", .9);
    graph.source("guide", .2);
    graph.reading(slight, "memo");
    graph.against(slight, "guide");
    const Claim rival_a = graph.claim("modelled-by", "person:a"), rival_b = graph.claim("modelled-by", "person:b");
    graph.witness(rival_a, .9);
    graph.witness(rival_b, .9);
    graph.write();
    const auto count = [&](const char* key, std::optional<DisputeKind> kind, double least, bool unsettled = false) {
        DisputesQuestion question;
        if (*key) question.thing = graph.snapshot().need(key);
        question.kind = kind;
        question.least = least;
        question.unsettled = unsettled;
        return ask(graph, question).found;
    };
    CHECK(count("", {}, 0) == 2);
    CHECK(count("piece:pot", {}, 0) == 1);
    CHECK(count("treatment:a", {}, 0) == 1);
    CHECK(count("source:guide", {}, 0) == 1);
    CHECK(count("person:b", {}, 0) == 1);
    CHECK(count("", DisputeKind::rivals, 0) == 1);
    CHECK(count("", DisputeKind::dates, 0) == 0);
    CHECK(count("", {}, .18) == 2);
    CHECK(count("", {}, .19) == 1);
    Gatherer gatherer(graph.snapshot(), graph.weigher().profile());
    graph.add(Ruling{id_of(rival_a), Ruling::Decision::accepted, "the journal", to_look_at(gatherer, graph.ref(rival_a)), "tester",
                     "2026-01-03", false});
    graph.write();
    CHECK(count("", {}, 0) == 2);
    CHECK(count("", {}, 0, true) == 1);
    graph.witness(rival_b, .3);  // the ruling has not seen it
    graph.write();
    CHECK(count("", {}, 0, true) == 2);
}

TEST_CASE("private claims are left out and counted", "[disputes]") {
    SmallGraph graph;
    const Claim open = graph.claim("modelled-by", "person:a");
    Claim secret{"shape:it", "modelled-by", {Value::Type::entity, "person:b", ""}, "", "", true};
    graph.add(secret);
    graph.witness(open, .9);
    graph.witness(secret, .9);
    graph.write();
    DisputesQuestion question;
    question.with_private = false;
    const DisputesAnswer answer = ask(graph, question);
    REQUIRE(answer.disputes.size() == 1);
    CHECK(answer.disputes[0].views.size() == 1);
    CHECK(answer.disputes[0].hidden == 1);
    Privacy privacy(graph.snapshot(), false);
    CHECK(to_json(answer, graph.snapshot(), privacy).dump().find("person:b") == std::string::npos);
}

TEST_CASE("the disputes are the contradictory claims and no others", "[disputes]") {
    // Every claim of five hundred random graphs weighed one by one.
    SmallGraph graph;
    for (std::uint64_t seed = 0; seed < 500; ++seed)
        for (const Record& record : testing::random_graph(seed).records()) graph.add(record);
    graph.write();
    const Snapshot& snapshot = graph.snapshot();
    Gatherer gatherer(snapshot, graph.weigher().profile());
    std::set<ClaimRef> contradictory, found;
    snapshot.each_claim([&](const ClaimWithEvidence& claim) {
        if (sides_of(gatherer, graph.weigher().profile(), claim.claim.ref).both > 1e-9) contradictory.insert(claim.claim.ref);
    });
    DisputesQuestion question;
    question.most = 10'000;
    for (const Dispute& dispute : ask(graph, question).disputes) {
        CHECK(dispute.both > 1e-9);
        for (const ClaimRef claim : views(dispute)) {
            const Sides sides = sides_of(gatherer, graph.weigher().profile(), claim);
            if (sides.both > 1e-9) found.insert(claim);
        }
    }
    CHECK(contradictory.size() > 100);
    CHECK(found == contradictory);
}
