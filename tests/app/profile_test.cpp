// The weighing profile, the rules and the circles of copying, through the command line.
#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

#include "app/args.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

struct Said {
    int status = 0;
    std::string out, err;
};
Said say(const std::vector<std::string>& words) {
    std::ostringstream out, err;
    Said said;
    said.status = app::run(words, out, err);
    said.out = out.str();
    said.err = err.str();
    return said;
}

std::string write(const testing::TemporaryFolder& folder, const std::string& name, const std::string& text) {
    const std::string path = (folder.path() / name).string();
    std::ofstream(path, std::ios::binary) << text;
    return path;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a changed profile changes the answer, which names its version", "[app]") {
    testing::TemporaryFolder folder;
    const std::string graph = (folder.path() / "g").string();
    REQUIRE(say({"start", "--graph", graph, "--author", "t"}).status == 0);
    const std::string sources = write(folder, "sources.csv", "key,type\nsource:letter,letter\n");
    const std::string claims = write(folder, "claims.csv", "subject,relation,object,source,certainty\nshape:a,treated-with,treatment:b,source:letter,perhaps\n");
    REQUIRE(say({"load", sources, claims, "--graph", graph}).status == 0);
    const std::vector<std::string> question{"weigh", "shape:a treated-with treatment:b", "--json", "--graph", graph};
    const Said before = say(question);
    CHECK(before.out.find("\"for_only\": 0.0,") != std::string::npos);
    CHECK(before.out.find("saggar version 2\"") != std::string::npos);

    const std::string shown = say({"profile", "show", "--graph", graph}).out;
    const std::string mine = write(folder, "mine.json", replaced(replaced(shown, "\"perhaps\": 0.5", "\"perhaps\": 0.75"), "\"version\": \"2\"", "\"version\": \"2a\""));
    CHECK(say({"profile", "load", mine, "--graph", graph}).out == "entry 4: weighed by profile saggar version 2a from now on\n");
    const Said after = say(question);
    CHECK(after.out.find("\"for_only\": 0.45") != std::string::npos);
    CHECK(after.out.find("saggar version 2a") != std::string::npos);
    // As of the entry before, the earlier answer.
    auto earlier = question;
    earlier.insert(earlier.end(), {"--as-of", "3"});
    CHECK(say(earlier).out.find("saggar version 2\"") != std::string::npos);

    const std::string bad = write(folder, "bad.json", replaced(shown, "\"cap\": 0.95", "\"cap\": 1.5"));
    const Said refused = say({"profile", "load", bad, "--graph", graph});
    CHECK(refused.status == 1);
    CHECK(refused.err.find("1.5 is not between 0 and 1 [profile-number-out-of-range]") != std::string::npos);
    CHECK(say({"profile", "load", "--graph", graph}).status == 2);
    CHECK(say({"start", "--graph", graph + "2", "--profile", bad}).status == 1);
}

TEST_CASE("a circle of copying is refused at its place, over several files too", "[app]") {
    testing::TemporaryFolder folder;
    const std::string graph = (folder.path() / "g").string();
    REQUIRE(say({"start", "--graph", graph, "--author", "t"}).status == 0);
    REQUIRE(say({"load", write(folder, "one.csv", "key,copied_from\nsource:a,source:b\nsource:b,source:c\n"), "--graph", graph}).status == 0);
    const Said refused = say({"load", write(folder, "two.csv", "key,copied_from\nsource:c,source:a\n"), "--graph", graph});
    CHECK(refused.status == 1);
    CHECK(refused.err.find("two.csv:2:10: error: source:c is copied from source:a, which is copied from source:b, which is "
                           "copied from source:c [copied-in-a-circle]") != std::string::npos);
}

TEST_CASE("the rules of a vocabulary fire when files are loaded, and faulty ones are refused at the start", "[app]") {
    testing::TemporaryFolder folder;
    const std::string graph = (folder.path() / "g").string();
    const auto vocabulary = [&](const std::string& conclusion) {
        return R"({"vocabulary": "v", "version": "1", "kinds": {"piece": {"label": "piece"}, "item": {"label": "item"}, "shape": {"label": "shape"}, "source": {"label": "source"}},
 "relations": {"instance-of": {"from": ["piece"], "to": ["item", "shape"], "label": "is an example of"}, "of-shape": {"from": ["item"], "to": ["shape"], "label": "is of the shape"}},
 "rules": [{"name": "shape", "when": [["?p", "instance-of", "?i"], ["?i", "of-shape", "?s"]], "then": ["?p", "instance-of", ")" + conclusion + R"("], "strength": 0.9, "reason": "an item has a shape"}]})";
    };
    const Said refused = say({"start", "--graph", graph, "--vocabulary", write(folder, "bad.json", vocabulary("?z"))});
    CHECK(refused.status == 1);
    CHECK(refused.err.find("the variable \"?z\" stands in no condition [rule-unbound-variable]") != std::string::npos);
    REQUIRE(say({"start", "--graph", graph, "--author", "t", "--vocabulary", write(folder, "good.json", vocabulary("?s"))}).status == 0);
    const Said loaded = say({"load", write(folder, "claims.csv", "subject,relation,object,source\npiece:1,instance-of,item:jug,source:x\nitem:jug,of-shape,shape:h,source:y\n"), "--graph", graph});
    CHECK(loaded.out.find("1 argument") != std::string::npos);
    const Said weighed = say({"weigh", "piece:1 instance-of shape:h", "--json", "--graph", graph});
    CHECK(weighed.out.find("\"support\": 0.225") != std::string::npos);  // .5 * .5 * .9
}
