// Dating: bounds through the graph, slack, doubt, contradictions and stints, and a twin that knows no network.
//
// All names and dates here are invented.
#include "queries/dating.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "kg/model/fault.h"
#include "kg/time/span.h"
#include "queries/dating_json.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using saggar::testing::SmallGraph;

namespace {

class Notebook : public SmallGraph {
public:
    Claim says(const std::string& subject, const std::string& relation, const std::string& object,
               double reliability = .9) {
        const Claim made = claim(relation, object, subject);
        witness(made, reliability);
        return made;
    }
    Claim dates(const std::string& subject, const std::string& relation, const std::string& edtf,
                double reliability = .9) {
        const Claim made = claim(relation, edtf, subject, Value::Type::date);
        witness(made, reliability);
        return made;
    }
    DatingAnswer date(const std::string& key, DatingQuestion question = {}) {
        question.thing = snapshot().need(key);
        return date_thing(snapshot(), weigher(), question);
    }
    std::string range(const std::string& key, const std::string& point = "") {
        const DatingAnswer answer = date(key);
        for (const DatedPoint& one : answer.points) {
            if (point.empty() || one.point == point)
                return time::to_text(one.earliest) + " " + time::to_text(one.latest);
        }
        return "";
    }
    std::set<ClaimRef> refs(const std::vector<Claim>& claims) const {
        std::set<ClaimRef> all;
        for (const Claim& one : claims) all.insert(ref(one));
        return all;
    }
};

std::set<ClaimRef> set_of(const std::vector<ClaimRef>& claims) { return {claims.begin(), claims.end()}; }
std::set<ClaimRef> set_of(const DatingContradiction& contradiction) {
    std::set<ClaimRef> all;
    for (const auto& one : contradiction.claims) all.insert(one.claim);
    return all;
}

const DatingBound& binding(const DatingAnswer& answer, bool earliest) {
    for (const DatingBound& bound : answer.points.at(0).bounds) {
        if (bound.is_earliest == earliest && bound.binds) return bound;
    }
    throw std::logic_error("no binding bound");
}

}  // namespace

TEST_CASE("a piece lies between what it is made after and what it is made before, and each side says why") {
    Notebook record;
    const Claim is_a = record.says("piece:jug", "instance-of", "item:jug-2");
    const Claim modelled = record.dates("item:jug-2", "modelled-in", "1951-02");
    record.dates("item:jug-2", "introduced-in", "1951-04");
    const Claim decorated = record.says("piece:jug", "treated-with", "treatment:h3");
    const Claim dropped = record.dates("treatment:h3", "dropped-in", "1956");
    record.write();
    const DatingAnswer answer = record.date("piece:jug");
    REQUIRE(answer.points.size() == 1);
    CHECK(time::to_text(answer.points[0].earliest) == "1951-02-01");
    CHECK(time::to_text(answer.points[0].latest) == "1958-01-01");  // the end of 1956 and a year of 366 days
    CHECK(set_of(binding(answer, true).because) == record.refs({is_a, modelled}));
    CHECK(set_of(binding(answer, false).because) == record.refs({decorated, dropped}));
    CHECK(binding(answer, true).steps.size() == 2);
    CHECK(binding(answer, true).steps[0].rule.empty());
    CHECK(binding(answer, true).steps[1].rule == "no piece is older than its model");
    CHECK(binding(answer, false).steps[1].slack_months == 12);
    CHECK(answer.contradictions.empty());
    CHECK(time::to_text(answer.run.earliest_start.day) == "1951-02-01");
    CHECK(time::to_text(answer.run.latest_end.day) == "1958-01-01");
    // The looser bound is there too: half a year before the introduction.
    const auto looser = std::find_if(answer.points[0].bounds.begin(), answer.points[0].bounds.end(),
                                     [](const DatingBound& bound) { return bound.is_earliest && !bound.binds; });
    REQUIRE(looser != answer.points[0].bounds.end());
    CHECK(time::to_text(looser->day) == "1950-09-30");
}

TEST_CASE("dated pieces bound the shape they belong to") {
    Notebook record;
    record.says("item:plate", "of-shape", "shape:oar");
    record.says("piece:p1", "instance-of", "item:plate");
    record.dates("piece:p1", "made-in-year", "1936-05");
    record.says("piece:p2", "instance-of", "shape:oar");
    record.dates("piece:p2", "made-in-year", "1949");
    record.write();
    CHECK(record.range("shape:oar", "modelled") == ".. 1936-05-31");
    CHECK(record.range("shape:oar", "introduced") == ".. 1937-06-01");
    CHECK(record.range("shape:oar", "dropped") == "1948-01-01 ..");
}

TEST_CASE("a mark dates by the two ends of its run, and an open end dates nothing") {
    Notebook record;
    record.says("piece:cup", "bears-mark", "mark:oval");
    record.dates("mark:oval", "used-between", "1949/1954");
    record.says("piece:pot", "bears-mark", "mark:ring");
    record.dates("mark:ring", "used-between", "1954-02/");
    record.write();
    CHECK(record.range("mark:oval", "first-used") == "1949-01-01 1949-12-31");
    CHECK(record.range("mark:oval", "last-used") == "1954-01-01 1954-12-31");
    CHECK(record.range("piece:cup") == "1949-01-01 1956-01-01");
    CHECK(record.range("piece:pot") == "1954-02-01 ..");
}

TEST_CASE("about reaches as far as the profile says, or the source itself") {
    Notebook record;
    record.dates("piece:a", "made-in-year", "1935~");
    const Claim claim = record.claim("made-in-year", "1935~", "piece:b", Value::Type::date);
    record.source("careful", .9).tolerance_years = 1;
    record.reading(claim, "careful");
    record.write();
    CHECK(record.range("piece:a") == "1930-01-01 1940-12-31");
    CHECK(record.range("piece:b") == "1934-01-01 1936-12-31");
}

TEST_CASE("denied, weakly supported and scoped claims do not bind") {
    Notebook record;
    record.dates("shape:oar", "introduced-in", "1936");
    const Claim weak = record.dates("shape:oar", "introduced-in", "1936-03", .2);
    const Claim denied = record.claim("introduced-in", "1936-05", "shape:oar", Value::Type::date);
    record.witness(denied, .9, Stance::against);
    const Claim elsewhere{"shape:oar", "introduced-in", {Value::Type::date, "1936-07", ""}, "company:far", "", false};
    record.add(elsewhere);
    record.witness(elsewhere, .9);
    record.write();
    CHECK(record.range("shape:oar", "introduced") == "1936-01-01 1936-12-31");
    const DatingAnswer answer = record.date("shape:oar");
    REQUIRE(answer.too_weak.size() == 1);
    CHECK(answer.too_weak[0].claim == record.ref(weak));
    DatingQuestion bold;
    bold.least_support = .1;
    CHECK(time::to_text(record.date("shape:oar", bold).points[1].earliest) == "1936-03-01");
}

TEST_CASE("claims that cannot all hold are named, and the weakest is set aside") {
    Notebook record;
    const Claim is_a = record.says("piece:pot", "instance-of", "item:teapot");
    const Claim modelled = record.dates("item:teapot", "modelled-in", "1934-10");
    const Claim coded = record.dates("piece:pot", "made-in-year", "1933-03", .6);
    const Claim aside = record.dates("piece:pot", "made-in-year", "1938-08", .4);
    record.write();
    const DatingAnswer answer = record.date("piece:pot");
    REQUIRE(answer.contradictions.size() == 2);
    std::set<std::set<ClaimRef>> sets;
    for (const auto& one : answer.contradictions) {
        sets.insert(set_of(one));
        // The strongest claim comes first. 1938 was set aside first, and taken back when 1933 had gone.
        CHECK(one.claims.front().support >= one.claims.back().support);
        CHECK(one.set_aside == record.ref(coded));
    }
    CHECK(sets == std::set<std::set<ClaimRef>>{record.refs({coded, aside}), record.refs({coded, is_a, modelled})});
    CHECK(record.range("piece:pot") == "1938-08-01 1938-08-31");
}

TEST_CASE("a piece was painted in one of its painter's stints; those that cannot be are struck out") {
    Notebook record;
    record.says("piece:jug", "made-by", "maker:quay");
    record.says("piece:jug", "painted-by", "person:ida");
    const auto stint = [&](const char* when, const char* maker) {
        const Claim dated{"person:ida", "worked-for", {Value::Type::entity, maker, ""}, "", when, false};
        record.add(dated);
        record.witness(dated, .9);
        return dated;
    };
    const Claim first = stint("1936-05/1952-02", "maker:quay");
    const Claim second = stint("1954-09/1958-06", "maker:quay");
    stint("1952-03/1954-08", "maker:brack");
    const Claim undated = record.says("person:ida", "worked-for", "maker:quay");
    record.write();
    CHECK(record.range("piece:jug") == "1936-05-01 1958-06-30");
    const Claim made = record.dates("piece:jug", "made-in-year", "1951/1954-02");
    record.write();
    const DatingAnswer answer = record.date("piece:jug");
    CHECK(time::to_text(answer.points[0].earliest) == "1951-01-01");
    CHECK(time::to_text(answer.points[0].latest) == "1952-02-29");
    REQUIRE(answer.struck.size() == 1);
    CHECK(answer.struck[0].claim == record.ref(second));
    const auto because = set_of(binding(answer, false).because);
    CHECK(because.count(record.ref(first)) == 1);
    CHECK(because.count(record.ref(made)) == 1);
    CHECK(because.count(record.ref(undated)) == 0);
    record.dates("piece:jug", "made-in-year", "1953");
    record.write();
    const DatingAnswer torn = record.date("piece:jug");
    REQUIRE(torn.contradictions.size() >= 1);
    CHECK(set_of(torn.contradictions[0]).count(record.ref(first)) == 1);
}

TEST_CASE("private claims bind only for who may see them") {
    Notebook record;
    record.dates("piece:a", "made-in-year", "1931/1939");
    const Claim hidden{"piece:a", "made-in-year", {Value::Type::date, "1935", ""}, "", "", true};
    record.add(hidden);
    record.witness(hidden, .9);
    record.write();
    DatingQuestion open;
    open.with_private = false;
    CHECK(time::to_text(record.date("piece:a", open).points[0].earliest) == "1931-01-01");
}

TEST_CASE("kinds without time points are told so") {
    Notebook record;
    record.says("shape:oar", "comprises", "article:plate");
    record.write();
    CHECK_THROWS_AS(record.date("article:plate"), UsageFault);
}

TEST_CASE("a dating as JSON has the documented members") {
    Notebook record;
    record.dates("piece:pot", "made-in-year", "1933", .6);
    record.dates("piece:pot", "made-in-year", "1938", .8);
    record.write();
    DatingQuestion question;
    question.thing = record.snapshot().need("piece:pot");
    const TimeRules rules = TimeRules::of(record.snapshot().vocabulary());
    const auto answer = date_thing(record.snapshot(), record.weigher(), rules, question);
    const auto years = date_years(record.snapshot(), record.weigher(), rules, question);
    const nlohmann::json json = to_json(answer, years, record.snapshot());
    CHECK(json.at("key") == "piece:pot");
    CHECK(json.at("earliest") == "1938-01-01");
    CHECK(json.at("latest") == "1938-12-31");
    CHECK(json.at("contradiction").size() == 2);
    CHECK(json.at("contradictions").at(0).at("claims").at(0).at("statement") == "piece:pot was made in 1938");
    CHECK(json.at("bounds").size() == 2);
    CHECK(json.at("bounds").at(0).at("side") == "earliest");
    CHECK(json.at("bounds").at(0).at("because").size() == 1);
    CHECK(json.at("years").size() == 8);  // 1932 to 1939
}

TEST_CASE("what a rule draws from a path that is walked anyway bounds a thing once, by what was read") {
    const auto bounds_with = [](bool by_rule, bool read_too) {
        Notebook record;
        const Claim is_a = record.says("piece:oar-plate", "instance-of", "item:plate");
        const Claim of = record.says("item:plate", "of-shape", "shape:oar");
        record.dates("shape:oar", "introduced-in", "1936");
        const Claim drawn = record.claim("instance-of", "shape:oar", "piece:oar-plate");
        Argument argument;
        argument.premises = {id_of(is_a), id_of(of)};
        std::sort(argument.premises.begin(), argument.premises.end());
        argument.conclusion = id_of(drawn);
        argument.reason = "an example of an item is an example of its shape";
        if (by_rule) argument.rule = "example-of-shape";
        record.add(argument);
        if (read_too) record.witness(drawn, .8);
        record.write();
        const DatingAnswer answer = record.date("piece:oar-plate");
        std::size_t bounds = 0;
        for (const DatingBound& bound : answer.points.at(0).bounds) bounds += bound.is_earliest;
        return bounds;
    };
    const std::size_t once = bounds_with(true, false);
    CHECK(once >= 1);
    CHECK(bounds_with(true, true) == once + 1);    // somebody read it himself: a bound of its own
    CHECK(bounds_with(false, false) == once + 1);  // somebody's own argument: likewise
}
