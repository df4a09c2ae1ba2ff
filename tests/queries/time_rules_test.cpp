// Time rules: those of the standard vocabulary are sound, a user's are read without code, and mistakes have a place.
#include "queries/time_rules.h"

#include <catch2/catch.hpp>

#include "kg/model/fault.h"

using namespace saggar;

namespace {

Vocabulary vocabulary_with(const std::string& time) {
    Problems problems;
    const auto read = Vocabulary::parse(
        R"({"vocabulary": "glass", "version": "1", "kinds": {"mould": {"label": "mould"}, "vase": {"label": "vase"}},
            "relations": {"cut-in": {"from": ["mould"], "to": ["date"], "label": "was cut in"},
                          "blown-in": {"from": ["vase"], "to": ["mould"], "label": "was blown in"},
                          "dated": {"from": ["vase"], "to": ["date"], "label": "is dated"}},
            "time": )" +
            time + "}",
        problems);
    REQUIRE(read);
    return *read;
}

Problem only_problem(const std::string& time) {
    Problems problems;
    const auto rules = TimeRules::parse(vocabulary_with(time), problems);
    CHECK_FALSE(rules);
    REQUIRE(problems.list().size() == 1);
    CHECK_FALSE(problems.list()[0].next_step.empty());
    return problems.list()[0];
}

const std::string points =
    R"("points": [{"point": "cut", "of": ["mould"], "from": "cut-in"}, {"point": "blown", "of": ["vase"], "from": "dated"}])";

}  // namespace

TEST_CASE("the time rules of the standard vocabulary are sound") {
    Problems problems;
    const auto rules = TimeRules::parse(Vocabulary::standard(), problems);
    for (const Problem& problem : problems.list()) UNSCOPED_INFO(to_text(problem));
    REQUIRE(rules);
    CHECK(rules->points_of("shape") == std::vector<std::string>{"modelled", "introduced", "dropped"});
    CHECK(rules->points_of("piece") == std::vector<std::string>{"made"});
    CHECK(rules->points_of("article").empty());
    CHECK(rules->run_of("mark")->start == "first-used");
    CHECK(rules->run_of("article") == nullptr);
    CHECK(rules->label_of("shape", "dropped") == "was dropped");
    CHECK(rules->orders.size() > 20);
    // Every order is met in both directions, so its path must be walked from the later thing to the earlier.
    for (const TimeOrderRule& order : rules->orders) CHECK((order.via.empty() == (order.earlier.kind == "*")));
}

TEST_CASE("a user's own rules are read, with paths walked either way") {
    Problems problems;
    const auto rules = TimeRules::parse(
        vocabulary_with("{" + points + R"(, "runs": [{"of": ["vase"], "start": "blown", "end": "blown"}],
            "orders": [{"earlier": "mould.cut", "later": "vase.blown", "via": "blown-in", "slack-months": 3,
                        "label": "no vase is older than its mould"},
                       {"earlier": "vase.blown", "later": "mould.cut", "via": "^blown-in/blown-in", "label": "odd"}],
            "periods": []})"),
        problems);
    REQUIRE(rules);
    REQUIRE(rules->orders.size() == 2);
    CHECK(rules->orders[0].slack_months == 3);
    REQUIRE(rules->orders[1].via.size() == 2);
    CHECK(rules->orders[1].via[0].backwards);
    CHECK(rules->orders[1].via[0].relation == "blown-in");
    CHECK_FALSE(rules->orders[1].via[1].backwards);
    CHECK(rules->points[0].label == "cut");
}

TEST_CASE("mistakes in time rules are named with their place") {
    const auto says = [](const std::string& time) { return only_problem(time).message; };
    CHECK(says(R"({"points": [{"point": "cut", "of": ["mold"], "from": "cut-in"}]})") ==
          "/points/0/of/0: unknown kind \"mold\" (did you mean \"mould\"?)");
    CHECK(says(R"({"points": [{"point": "cut", "of": ["mould"], "from": "cutin"}]})") ==
          "/points/0/from: unknown relation \"cutin\" (did you mean \"cut-in\"?)");
    CHECK(says(R"({"points": [{"point": "cut", "of": ["mould"], "from": "blown-in"}]})") ==
          "/points/0/from: the objects of \"blown-in\" are not dates");
    CHECK(says(R"({"points": [{"point": "cut", "of": ["mould"], "from": "cut-in", "part": "middle"}]})") ==
          "/points/0/part: \"middle\" is no part of a date");
    CHECK(says("{" + points +
               R"(, "orders": [{"earlier": "mould.cut", "later": "vase.blwn", "via": "blown-in", "label": "x"}]})") ==
          "/orders/0/later: things of kind \"vase\" have no point \"blwn\" (did you mean \"blown\"?)");
    CHECK(says("{" + points + R"(, "orders": [{"earlier": "mould.cut", "later": "vase.blown", "label": "x"}]})") ==
          "/orders/0: without \"via\" both points belong to one thing");
    CHECK(says("{" + points +
               R"(, "orders": [{"earlier": "*.cut", "later": "vase.blown", "via": "blown-in", "label": "x"}]})") ==
          "/orders/0/earlier: \"*\" stands only in an order between points of one thing");
    CHECK(says("{" + points +
               R"(, "orders": [{"earlier": "mould.cut", "later": "vase.blown", "via": "blown-in/", "label": "x"}]})") ==
          "/orders/0/via: unknown relation \"\"");
    CHECK(says("{" + points +
               R"(, "orders": [{"earlier": "mouldcut", "later": "vase.blown", "via": "blown-in", "label": "x"}]})") ==
          "/orders/0/earlier: \"mouldcut\" does not name a point");
    CHECK(says(R"({"pionts": []})") == "/pionts: unknown field \"pionts\" (did you mean \"points\"?)");
    CHECK_THROWS_AS(TimeRules::of(vocabulary_with(R"({"pionts": []})")), UsageFault);
}

TEST_CASE("slack is counted in days, rounded up") {
    CHECK(days_of_slack(0) == 0);
    CHECK(days_of_slack(1) == 31);
    CHECK(days_of_slack(6) == 183);
    CHECK(days_of_slack(12) == 366);
    CHECK(days_of_slack(48) == 1461);
}
