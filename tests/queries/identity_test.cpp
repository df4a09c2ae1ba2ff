// Accepted identities act as one entity in every answer, and parting them restores every answer.
#include <catch2/catch.hpp>

#include <map>

#include "queries/dating.h"
#include "queries/disputes.h"
#include "queries/run_relation.h"
#include "queries/trace.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

std::map<ClaimRef, Masses> all_masses(SmallGraph& graph) {
    std::map<ClaimRef, Masses> all;
    graph.snapshot().each_claim([&](const ClaimWithEvidence& claim) { all[claim.claim.ref] = graph.weigher().masses(claim.claim.ref); });
    return all;
}

// A line under two names: what it was built on is known of the one, who ordered it of the other.
struct TwoNames {
    SmallGraph graph;
    Claim piece = graph.claim("treated-with", "treatment:blue", "line:northern");
    Claim built = graph.claim("built-on", "shape:lantern", "line:northern");
    Claim ordered = graph.claim("commissioned-by", "company:provident", "line:northern-blue");
    Claim identity = graph.claim("same-as", "line:northern-blue", "line:northern");
    Ruling ruling{id_of(identity), Ruling::Decision::accepted, "one order", {}, "tester", "2026-01-02", false};

    TwoNames() {
        graph.witness(piece, .9);
        graph.witness(built, .9);
        graph.witness(ordered, .8);
        graph.witness(identity, .5);
        graph.write();
    }
    TraceAnswer trace_to_companies(const std::string& from, const std::string& via, const std::string& to = "") {
        Problems problems;
        TraceQuestion question;
        question.from = graph.snapshot().need(from);
        question.via = parse_path(via, graph.snapshot().vocabulary(), problems);
        REQUIRE(question.via);
        if (to.empty()) question.to_kind = "company";
        if (!to.empty()) question.to = graph.snapshot().need(to);
        return trace(graph.snapshot(), graph.weigher(), question);
    }
};

}  // namespace

TEST_CASE("a trace walks an accepted identity whatever the path names, with its weight", "[identity]") {
    TwoNames names;
    CHECK(names.trace_to_companies("line:northern", "commissioned-by").chains.empty());
    names.graph.add(names.ruling);
    names.graph.write();
    for (const char* to : {"", "company:provident"}) {
        const TraceAnswer answer = names.trace_to_companies("line:northern", "commissioned-by", to);
        REQUIRE(answer.chains.size() == 1);
        REQUIRE(answer.chains[0].steps.size() == 2);
        CHECK(answer.chains[0].steps[0].step.claim == names.graph.ref(names.identity));
        CHECK(answer.chains[0].support == Approx(.5 * .8));
        CHECK(answer.joint->raw == Approx(.5 * .8));
    }
    // In the middle of a path, and at its end.
    CHECK(names.trace_to_companies("shape:lantern", "^built-on/commissioned-by").chains.size() == 1);
    CHECK(names.trace_to_companies("shape:lantern", "^built-on", "line:northern-blue").chains.size() == 1);
    names.graph.add(Withdrawal{id_of(names.ruling), "two orders"});
    names.graph.write();
    CHECK(names.trace_to_companies("line:northern", "commissioned-by").chains.empty());
    CHECK(names.trace_to_companies("shape:lantern", "^built-on", "line:northern-blue").chains.empty());
}

TEST_CASE("a rejected or open identity is no bridge", "[identity]") {
    for (const auto decision : {Ruling::Decision::rejected, Ruling::Decision::left_open}) {
        TwoNames names;
        names.ruling.decision = decision;
        names.graph.add(names.ruling);
        names.graph.write();
        CHECK(names.trace_to_companies("line:northern", "commissioned-by").chains.empty());
    }
}

TEST_CASE("withdrawing an identity's ruling restores every figure bit for bit", "[identity]") {
    SmallGraph graph;
    std::vector<Ruling> rulings;
    for (std::uint64_t seed = 0; seed < 100; ++seed)
        for (const Record& record : testing::random_graph(seed + 5000).records()) graph.add(record);
    std::vector<Claim> identities;
    for (std::uint64_t seed = 5000; seed + 1 < 5100; seed += 2) {
        const Claim claim = graph.claim("same-as", "shape:g" + std::to_string(seed + 1), "shape:g" + std::to_string(seed));
        graph.witness(claim, .6);
        identities.push_back(claim);
    }
    graph.write();
    const auto before = all_masses(graph);
    for (const Claim& claim : identities)
        rulings.push_back(graph.add(Ruling{id_of(claim), Ruling::Decision::accepted, "one", {}, "tester", "2026-01-02", false}));
    graph.write();
    const auto merged = all_masses(graph);
    std::size_t moved = 0;
    for (const auto& [claim, masses] : merged) moved += !(masses == before.at(claim));
    CHECK(moved > 30);
    for (const Ruling& ruling : rulings) graph.add(Withdrawal{id_of(ruling), "two"});
    graph.write();
    const auto after = all_masses(graph);
    REQUIRE(after.size() == before.size());
    for (const auto& [claim, masses] : after) CHECK(masses == before.at(claim));  // operator== on the doubles
}

namespace {

DatedPoint point_of(SmallGraph& graph, const std::string& key, const std::string& name, double least = .25) {
    DatingQuestion question;
    question.thing = graph.snapshot().need(key);
    question.least_support = least;
    const DatingAnswer answer = date_thing(graph.snapshot(), graph.weigher(), question);
    for (const DatedPoint& point : answer.points)
        if (point.point == name) return point;
    FAIL("no point " << name);
    return {};
}

std::string day(time::Day one) { return time::is_limit(one) ? "?" : time::to_text(one); }

bool rests_on(const DatedPoint& point, ClaimRef claim) {
    for (const DatingBound& bound : point.bounds)
        if (std::find(bound.because.begin(), bound.because.end(), claim) != bound.because.end()) return true;
    return false;
}

}  // namespace

TEST_CASE("dates recorded under one name bound the thing under its other name, by way of the identity", "[identity]") {
    SmallGraph graph;
    graph.witness(graph.claim("introduced-in", "1936", "line:northern", Value::Type::date), .9);
    graph.witness(graph.claim("dropped-in", "1944", "line:northern-blue", Value::Type::date), .9);
    const Claim identity = graph.claim("same-as", "line:northern-blue", "line:northern");
    graph.witness(identity, .6);
    graph.write();
    CHECK(day(point_of(graph, "line:northern", "dropped").latest) == "?");
    const Ruling ruling = graph.add(Ruling{id_of(identity), Ruling::Decision::accepted, "one", {}, "tester", "2026-01-02", false});
    graph.write();
    for (const char* key : {"line:northern", "line:northern-blue"}) {
        CHECK(day(point_of(graph, key, "introduced").earliest) == "1936-01-01");
        CHECK(day(point_of(graph, key, "dropped").latest) == "1944-12-31");
    }
    CHECK(rests_on(point_of(graph, "line:northern", "dropped"), graph.ref(identity)));
    // It counts for as much as the identity does: here .6.
    CHECK(day(point_of(graph, "line:northern", "dropped", .7).latest) == "?");
    CHECK_FALSE(rests_on(point_of(graph, "line:northern-blue", "dropped", .7), graph.ref(identity)));
    graph.add(Withdrawal{id_of(ruling), "two lines"});
    graph.write();
    CHECK(day(point_of(graph, "line:northern", "dropped").latest) == "?");
    CHECK(day(point_of(graph, "line:northern-blue", "introduced").earliest) == "?");
}

TEST_CASE("a path of a time rule changes the name on its way", "[identity]") {
    SmallGraph graph;
    // A piece is of an item under one name; the other name of the item was introduced in 1936.
    graph.witness(graph.claim("instance-of", "item:jug", "piece:one"), .9);
    graph.witness(graph.claim("introduced-in", "1936", "item:pitcher", Value::Type::date), .9);
    const Claim identity = graph.claim("same-as", "item:pitcher", "item:jug");
    graph.witness(identity, .8);
    graph.add(Ruling{id_of(identity), Ruling::Decision::accepted, "one", {}, "tester", "2026-01-02", false});
    graph.write();
    const DatedPoint made = point_of(graph, "piece:one", "made");
    CHECK(day(made.earliest).substr(0, 4) == "1935");  // half a year before, by the rule of the vocabulary
    CHECK(day(made.earliest) != "?");
    CHECK(rests_on(made, graph.ref(identity)));
}

TEST_CASE("runs recorded under two names are compared as one thing's", "[identity]") {
    SmallGraph graph;
    graph.witness(graph.claim("introduced-in", "1936", "line:northern", Value::Type::date), .9);
    graph.witness(graph.claim("dropped-in", "1938", "line:northern-blue", Value::Type::date), .9);
    graph.witness(graph.claim("introduced-in", "1950", "line:late", Value::Type::date), .9);
    graph.witness(graph.claim("dropped-in", "1960", "line:late", Value::Type::date), .9);
    const Claim identity = graph.claim("same-as", "line:northern-blue", "line:northern");
    graph.witness(identity, .8);
    graph.write();
    const auto possible = [&] {
        const TimeRules rules = TimeRules::of(graph.snapshot().vocabulary());
        return run_relation_words(graph.snapshot(), relate_runs(graph.snapshot(), graph.weigher(), rules,
                                                                graph.snapshot().need("line:northern"),
                                                                graph.snapshot().need("line:late"), {}));
    };
    const std::string apart = possible();
    const Ruling ruling = graph.add(Ruling{id_of(identity), Ruling::Decision::accepted, "one", {}, "tester", "2026-01-02", false});
    graph.write();
    CHECK(possible().find("certainly before") != std::string::npos);
    graph.add(Withdrawal{id_of(ruling), "two lines"});
    graph.write();
    CHECK(possible() == apart);
    CHECK(apart.find("certainly") == std::string::npos);
}

TEST_CASE("a date of one name that breaks an order with a date of the other name's pieces is in dispute", "[identity]") {
    SmallGraph graph;
    graph.witness(graph.claim("instance-of", "item:jug", "piece:one"), .9);
    graph.witness(graph.claim("made-in-year", "1920", "piece:one", Value::Type::date), .9);
    graph.witness(graph.claim("introduced-in", "1936", "item:pitcher", Value::Type::date), .9);
    const Claim identity = graph.claim("same-as", "item:pitcher", "item:jug");
    graph.witness(identity, .8);
    graph.write();
    const auto found = [&] { return disputes(graph.snapshot(), graph.weigher(), {}).found; };
    CHECK(found() == 0);
    const Ruling ruling = graph.add(Ruling{id_of(identity), Ruling::Decision::accepted, "one", {}, "tester", "2026-01-02", false});
    graph.write();
    CHECK(found() == 1);
    graph.add(Withdrawal{id_of(ruling), "two"});
    graph.write();
    CHECK(found() == 0);
}
