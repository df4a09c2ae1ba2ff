// How runs lie to each other, from the claims that date them. All names and dates are invented.
#include "queries/run_relation.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using saggar::testing::SmallGraph;

TEST_CASE("runs are related as far as their dates say") {
    SmallGraph graph;
    const auto dates = [&](const char* shape, const char* relation, const char* edtf) {
        graph.witness(graph.claim(relation, edtf, shape, Value::Type::date), .9);
    };
    dates("shape:fathom", "introduced-in", "1930");
    dates("shape:fathom", "dropped-in", "1942");
    dates("shape:lantern", "introduced-in", "1936");
    dates("shape:lantern", "dropped-in", "1955");
    dates("shape:halyard", "introduced-in", "1948");
    dates("shape:tern", "modelled-in", "1956");
    graph.witness(graph.claim("comprises", "article:plate", "shape:orlop"), .9);
    graph.write();
    const TimeRules rules = TimeRules::of(graph.snapshot().vocabulary());
    const auto relate = [&](const char* a, const char* b) {
        return relate_runs(graph.snapshot(), graph.weigher(), rules, graph.snapshot().need(a), graph.snapshot().need(b),
                           {});
    };
    const auto words = [&](const char* a, const char* b) { return run_relation_words(graph.snapshot(), relate(a, b)); };
    CHECK(words("shape:fathom", "shape:lantern") == "shape:fathom certainly overlaps shape:lantern");
    CHECK(words("shape:lantern", "shape:fathom") == "shape:lantern certainly overlapped by shape:fathom");
    CHECK(words("shape:fathom", "shape:halyard") == "shape:fathom certainly before shape:halyard");
    CHECK(words("shape:lantern", "shape:halyard") == "shape:lantern overlaps, finished by or contains shape:halyard");
    CHECK(words("shape:lantern", "shape:tern") == "shape:lantern before or meets shape:tern");
    CHECK(words("shape:lantern", "shape:orlop") == "nothing is known of how shape:lantern and shape:orlop lie in time");
    CHECK_FALSE(relate("shape:lantern", "shape:orlop").known);
    const nlohmann::json json = to_json(relate("shape:lantern", "shape:halyard"), graph.snapshot());
    CHECK(json.at("possible") == nlohmann::json({"overlaps", "finished by", "contains"}));
    CHECK(json.at("a").at("latest_end") == "1955-12-31");
    CHECK(json.at("b").at("latest_end").is_null());
}
