#include "kg/weigh/profile.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace saggar;

namespace {

// The built-in document with one piece of text replaced.
std::string changed(const std::string& from, const std::string& to) {
    std::string text = Profile::standard().document();
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

struct Refused {
    const char* from;
    const char* to;
    const char* id;
    const char* message;  // a part of it
};

}  // namespace

TEST_CASE("the built-in profile holds the conventions of the specification", "[profile]") {
    const Profile& profile = Profile::standard();
    CHECK(profile.title() == "saggar version 2");
    CHECK(profile.find_grade("object-in-hand")->cap == .98);
    CHECK(profile.find_grade("works-record")->cap == .95);
    CHECK(profile.find_grade("contemporary-print")->cap == .90);
    CHECK(profile.find_grade("later-work")->cap == .85);
    CHECK(profile.find_grade("recollection")->cap == .70);
    CHECK(profile.find_grade("hearsay")->cap == .40);
    CHECK_FALSE(profile.find_grade("cannot-be-judged")->reliability);
    CHECK(profile.find_type("journal")->grade == "works-record");
    CHECK(profile.find_family("author")->dependence == 1);
    CHECK(profile.find_family("household")->dependence == .9);
    CHECK(profile.find_family("circle")->dependence == .7);
    CHECK(profile.find_family("periodical")->dependence == .7);
    CHECK(profile.find_family("literature")->dependence == .5);
    CHECK(profile.find_family("independent")->dependence == 0);
    CHECK(profile.within_source == .5);
    CHECK(profile.find_grade("no such grade") == nullptr);
    CHECK(profile.nearest_grade("works-recrod") == "works-record");
}

TEST_CASE("an author's certainty is a hedge or a number", "[profile]") {
    const Profile& profile = Profile::standard();
    CHECK(profile.certainty_of("") == 1.0);
    CHECK(profile.certainty_of("Almost  certainly") == .93);
    CHECK(profile.certainty_of("I believe") == .75);
    CHECK(profile.certainty_of("perhaps") == .5);
    CHECK(profile.certainty_of("probably not") == .25);
    CHECK(profile.certainty_of(".6") == .6);
    CHECK(profile.certainty_of("0.60") == .6);
    CHECK_FALSE(profile.certainty_of("1.2"));
    CHECK_FALSE(profile.certainty_of("-.2"));
    CHECK_FALSE(profile.certainty_of("nan"));
    CHECK_FALSE(profile.certainty_of("inf"));
    CHECK_FALSE(profile.certainty_of("60 %"));
    CHECK_FALSE(profile.certainty_of("so they say"));
    CHECK(profile.nearest_hedge("probabbly") == "probably");
}

TEST_CASE("likelihood words follow ICD 203, a boundary going up", "[profile]") {
    // Intelligence Community Directive 203 (2015), D.6.e(2)(a): 1-5, 5-20, 20-45, 45-55, 55-80, 80-95, 95-99 per cent.
    const WordScale& scale = Profile::standard().words();
    CHECK(scale.words_for(0) == "almost no chance");
    CHECK(scale.words_for(.0499) == "almost no chance");
    CHECK(scale.words_for(.05) == "very unlikely");
    CHECK(scale.words_for(.2) == "unlikely");
    CHECK(scale.words_for(.45) == "roughly even chance");
    CHECK(scale.words_for(.55) == "likely");
    CHECK(scale.words_for(.8) == "very likely");
    CHECK(scale.words_for(.95) == "almost certain");
    CHECK(scale.words_for(1) == "almost certain");
}

TEST_CASE("a faulty profile is refused with its place and a next step", "[profile]") {
    const Refused cases[] = {
        {"\"cap\": 0.95", "\"cap\": 1.5", "profile-number-out-of-range", "/grades/"},
        {"\"cap\": 0.95", "\"cap\": 1", "profile-grade-cap", "no source is beyond doubt"},
        {"\"reliability\": 0.90", "\"reliability\": 0.97", "profile-grade-cap", "more than the cap"},
        {"\"reliability\": 0.90", "\"reliability\": -0.1", "profile-number-out-of-range", "-0.1 is not between 0 and 1"},
        {"\"reliability\": 0.90", "\"reliability\": \"high\"", "profile-wrong-type", "expected a number, found string"},
        {"\"grade\": \"works-record\"", "\"grade\": \"works-recrod\"", "profile-unknown-grade", "did you mean \"works-record\""},
        {"\"unstated-type\": \"unstated\"", "\"unstated-type\": \"lost\"", "profile-unknown-grade", "\"lost\" is not a grade"},
        {"\"hedges\"", "\"hedgse\"", "profile-unknown-field", "did you mean \"hedges\""},
        {"\"perhaps\": 0.5", "\"perhaps\": 5", "profile-number-out-of-range", "/hedges/perhaps"},
        {"\"perhaps\": 0.5", "\"Probably\": 0.5", "profile-bad-hedge", "there already"},
        {"\"perhaps\": 0.5", "\"0.5\": 0.5", "profile-bad-hedge", "a number"},
        {"\"dependence\": 0.9", "\"dependence\": 9", "profile-number-out-of-range", "/families/household/dependence"},
        {"\"unstated-family\": \"unknown\"", "\"unstated-family\": \"unknwon\"", "profile-unknown-family", "did you mean"},
        {"\"scale\": \"icd-203\"", "\"scale\": \"icd\"", "profile-unknown-scale", "\"icd\" is not a scale"},
        {"{\"from\": 0.20, \"words\": \"unlikely\"}", "{\"from\": 0.01, \"words\": \"unlikely\"}", "profile-word-bands", "go up"},
        {"\"contested\": 0.1", "\"contested\": 0.6", "profile-contradiction-order", "must go up"},
        {"\"nodes\": 200000", "\"nodes\": 0.5", "profile-not-whole", "0.5 is not a whole number"},
        {"\"about-years\": 5", "\"about-years\": 500", "profile-number-out-of-range", "500 is not between 0 and 100"},
        {"\"version\": \"2\"", "\"version\": \"\"", "profile-missing-field", "\"version\" is empty"},
        {"\"supported\": 0.5", "\"supported\": 0.4", "profile-number-out-of-range", "0.4 is not between 0.5 and 1"},
        {"\"mistaken\": 0.02", "\"mistaken\": 2", "profile-number-out-of-range", "2 is not between 0 and 1"},
        {"\"treated-with\": 0.3", "\"treated-with\": -0.3", "profile-number-out-of-range", "-0.3 is not between 0 and 1"},
        {"\"mistaken\": 0.02", "\"mistkaen\": 0.02", "profile-unknown-field", "did you mean \"mistaken\""},
        {"\"indirect\": 0.5,", "", "profile-missing-field", "\"indirect\" is missing"},
        {"\"indirect\": 0.5,", "\"indirect\": 0.5, \"indirect\": 0.6,", "json-duplicate-key", "indirect"},
    };
    for (const Refused& it : cases) {
        Problems problems;
        INFO(it.to);
        CHECK_FALSE(Profile::parse(changed(it.from, it.to), problems, "my.json"));
        REQUIRE_FALSE(problems.list().empty());
        const Problem& problem = problems.list().front();
        CHECK(problem.id == it.id);
        CHECK(problem.message.find(it.message) != std::string::npos);
        CHECK(problem.place.file == "my.json");
        CHECK(problem.place.line > 0);
        CHECK(problem.place.column > 0);
        CHECK_FALSE(problem.next_step.empty());
    }
    Problems problems;
    CHECK_FALSE(Profile::parse(std::string(70, '[') + std::string(70, ']'), problems));
    CHECK(problems.list().front().id == "json-too-deep");
}

TEST_CASE("a changed profile is read as it says", "[profile]") {
    Problems problems;
    const auto profile = Profile::parse(changed("\"perhaps\": 0.5", "\"perhaps\": 0.6"), problems);
    REQUIRE(profile);
    CHECK(profile->certainty_of("perhaps") == .6);
}

TEST_CASE("what a profile does not say of naming pieces, the built-in one says", "[profile]") {
    const Identifying& built_in = Profile::standard().identifying;
    CHECK(built_in.chance_shown("has-feature") == .95);
    CHECK(built_in.chance_shown("held-by") == built_in.shown_otherwise);
    // As version 1 was, without either part.
    std::string text = Profile::standard().document();
    const auto from = text.find(",\n\n  \"supported\"");
    REQUIRE(from != std::string::npos);
    text = text.substr(0, from) + "\n}\n";
    Problems problems;
    const auto older = Profile::parse(text, problems);
    REQUIRE(older);
    CHECK(older->supported == .5);
    CHECK(older->identifying.unknown == built_in.unknown);
    CHECK(older->identifying.shown == built_in.shown);
    const auto mine = Profile::parse(changed("\"mistaken\": 0.02", "\"mistaken\": 0.1"), problems);
    REQUIRE(mine);
    CHECK(mine->identifying.mistaken == .1);
}
