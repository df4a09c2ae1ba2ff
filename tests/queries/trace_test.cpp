#include "queries/trace.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "queries/trace_json.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

// The invented Northern line: on a shape, ordered by grocers, with a dealer who names somebody else.
struct Northern {
    SmallGraph graph;
    Claim built = graph.claim("built-on", "shape:lantern", "line:northern");
    Claim ordered = graph.claim("commissioned-by", "company:northern-provident", "line:northern");
    Claim rumour = graph.claim("commissioned-by", "company:calloway-dunne", "line:northern");
    Claim sold = graph.claim("sold-by", "company:harbour-hotels", "shape:lantern");
    Claim also_sold = graph.claim("sold-by", "company:harbour-hotels", "line:northern");
    Claim nowhere = graph.claim("sold-by", "company:unsupported", "line:northern");

    Northern() {
        graph.witness(built, .9);
        graph.witness(ordered, .8);
        graph.witness(rumour, .4);
        graph.witness(sold, .5);
        graph.witness(also_sold, .3);
        graph.write();
    }
    TraceQuestion question(const std::string& from = "line:northern") const {
        TraceQuestion question;
        question.from = graph.snapshot().need(from);
        question.to_kind = "company";
        return question;
    }
    PathExpression path(const std::string& text) const {
        Problems problems;
        auto path = parse_path(text, graph.snapshot().vocabulary(), problems);
        REQUIRE(path);
        return *path;
    }
    TraceAnswer ask(const TraceQuestion& question) { return trace(graph.snapshot(), graph.weigher(), question); }
    std::vector<std::string> ends(const TraceAnswer& answer) const {
        std::vector<std::string> keys;
        for (const TraceChain& chain : answer.chains) keys.push_back(graph.snapshot().key_of(chain.end()));
        return keys;
    }
};

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("a trace gives chains by the product of their supports", "[trace]") {
    Northern northern;
    TraceQuestion question = northern.question();
    question.via = northern.path("(built-on|commissioned-by|sold-by)+");
    const TraceAnswer answer = northern.ask(question);
    // Two companies are named for a relation that takes one, so each refutes the other; sold-by takes any number.
    const double ordered = northern.graph.weigher().support(northern.graph.ref(northern.ordered));
    const double rumour = northern.graph.weigher().support(northern.graph.ref(northern.rumour));
    REQUIRE(answer.chains.size() == 4);
    CHECK(northern.ends(answer) == Keys{"company:northern-provident", "company:harbour-hotels", "company:harbour-hotels",
                                        "company:calloway-dunne"});
    CHECK(answer.chains[0].support == Approx(ordered));
    CHECK(answer.chains[1].support == Approx(.45));
    CHECK(answer.chains[1].steps.size() == 2);
    CHECK(answer.chains[2].support == Approx(.3));
    CHECK(answer.chains[3].support == Approx(rumour));
    CHECK(answer.complete);
    CHECK_FALSE(answer.more);
    REQUIRE(answer.joint);
    CHECK_FALSE(answer.joint_all);
    CHECK(answer.all_complete);
}

TEST_CASE("the best only, and what all come to", "[trace]") {
    Northern northern;
    TraceQuestion question = northern.question();
    question.via = northern.path("(built-on|sold-by)+");
    question.limits.best = 1;
    const TraceAnswer answer = northern.ask(question);
    REQUIRE(answer.chains.size() == 1);
    CHECK(answer.joint->raw == Approx(.45));
    REQUIRE(answer.joint_all);
    CHECK(answer.chains_all == 0);  // by reachability
    CHECK(answer.all_complete);
    CHECK(answer.joint_all->raw == Approx(1 - .55 * .7));  // independent witnesses: 1 - (1 - .45)(1 - .3)
    question.most_web_claims = 1;
    const TraceAnswer listed = northern.ask(question);
    CHECK(listed.chains_all == 2);
    CHECK(listed.all_complete);
    CHECK(listed.joint_all->raw == Approx(answer.joint_all->raw));
    question.most_together = 1;
    CHECK_FALSE(northern.ask(question).all_complete);
    CHECK_FALSE(northern.ask(question).joint_all);
}

TEST_CASE("from a buyer back to a shape, and to one thing alone", "[trace]") {
    Northern northern;
    TraceQuestion question = northern.question("company:northern-provident");
    question.to_kind = "shape";
    question.via = northern.path("^commissioned-by/built-on");
    CHECK(northern.ends(northern.ask(question)) == Keys{"shape:lantern"});
    question.via = northern.path("commissioned/built-on");  // the inverse name
    CHECK(northern.ends(northern.ask(question)) == Keys{"shape:lantern"});
    CHECK_FALSE(northern.ask(question).chains[0].steps[0].step.forward);
    question.to_kind = "";
    question.to = northern.graph.snapshot().need("company:harbour-hotels");
    question.via.reset();
    const TraceAnswer answer = northern.ask(question);
    REQUIRE(answer.chains.size() == 2);
    CHECK(answer.via == "(!()|^!())+");
    CHECK(answer.chains[0].steps.size() == 3);
    question.to = question.from;
    CHECK(northern.ask(question).chains.empty());
}

TEST_CASE("equal chains are ordered by what they say, not by when they were entered", "[trace]") {
    for (const bool turned : {false, true}) {
        SmallGraph graph;
        std::vector<std::string> buyers{"company:a", "company:b", "company:c"};
        if (turned) std::reverse(buyers.begin(), buyers.end());
        for (const std::string& buyer : buyers) graph.witness(graph.claim("sold-by", buyer, "line:l"), .5);
        graph.write();
        TraceQuestion question;
        question.from = graph.snapshot().need("line:l");
        question.to_kind = "company";
        question.limits.best = 2;
        const TraceAnswer answer = trace(graph.snapshot(), graph.weigher(), question);
        REQUIRE(answer.chains.size() == 2);
        CHECK(answer.more);
        CHECK(graph.snapshot().key_of(answer.chains[0].end()) == "company:a");
        CHECK(graph.snapshot().key_of(answer.chains[1].end()) == "company:b");
    }
}

TEST_CASE("published networks are traced to their published reliability", "[trace]") {
    // Directed graph of the ProbLog test suite: 1..5 .25824, 1..6 .2167296.
    SmallGraph graph;
    const auto edge = [&graph](const char* from, const char* to, double p) {
        graph.witness(graph.claim("built-on", std::string("line:n") + to, std::string("line:n") + from), p);
    };
    edge("1", "2", .6);
    edge("1", "3", .1);
    edge("2", "5", .4);
    edge("2", "6", .3);
    edge("3", "4", .3);
    edge("4", "5", .8);
    edge("5", "6", .2);
    graph.write();
    for (const std::pair<const char*, double>& expected : {std::pair<const char*, double>{"line:n5", .25824}, {"line:n6", .2167296}}) {
        for (const std::size_t best : {1, 50}) {
            TraceQuestion question;
            question.from = graph.snapshot().need("line:n1");
            question.to = graph.snapshot().need(expected.first);
            Problems problems;
            question.via = parse_path("built-on+", graph.snapshot().vocabulary(), problems);
            question.limits.best = best;
            const TraceAnswer answer = trace(graph.snapshot(), graph.weigher(), question);
            const JointWeight& all = answer.joint_all ? *answer.joint_all : answer.joint.value();
            CHECK(all.raw == Approx(expected.second).epsilon(1e-9));
            CHECK(answer.all_complete);
        }
    }
}

TEST_CASE("the figure over all chains is the same by reachability and by listing", "[trace]") {
    std::mt19937 random(17);
    std::size_t compared = 0;
    for (int round = 0; round < 60; ++round) {
        SmallGraph graph;
        const std::size_t count = 6 + random() % 9;
        for (std::size_t i = 0; i < count; ++i) {
            const std::string from = "line:n" + std::to_string(random() % 5);
            const std::string to = "line:n" + std::to_string(random() % 5);
            const char* const relation = random() % 2 ? "built-on" : "includes";
            const double chance = static_cast<double>(1 + random() % 9) / 10;
            graph.witness(graph.claim(relation, to, from), chance);
        }
        graph.witness(graph.claim("built-on", "line:n1", "line:n0"), .5);
        graph.witness(graph.claim("includes", "line:n4", "line:n1"), .5);
        graph.write();
        TraceQuestion question;
        question.from = graph.snapshot().need("line:n0");
        question.to = graph.snapshot().need("line:n4");
        Problems problems;
        const char* const text = round % 2 ? "(built-on|^includes|includes)+" : "built-on+/includes";
        question.via = parse_path(text, graph.snapshot().vocabulary(), problems);
        question.limits.best = 1;
        question.most_together = 1000;
        question.most_listed_claims = 1000;
        const TraceAnswer by_web = trace(graph.snapshot(), graph.weigher(), question);
        question.most_web_claims = 0;
        const TraceAnswer by_list = trace(graph.snapshot(), graph.weigher(), question);
        CHECK(by_list.all_complete);
        if (!by_list.joint_all || by_web.chains_all != 0) continue;
        ++compared;
        CHECK(by_web.joint_all->raw == Approx(by_list.joint_all->raw).margin(1e-9));
    }
    CHECK(compared > 20);
}

TEST_CASE("claims whose times do not meet make a chain impossible", "[trace]") {
    SmallGraph graph;
    const auto dated = [&graph](Claim claim, const char* when) {
        claim.when = when;
        graph.add(claim);
        graph.witness(claim, .9);
        return claim;
    };
    const Claim built = dated(Claim{"line:a", "built-on", {Value::Type::entity, "shape:s", ""}, "", "", false}, "1936/1940");
    const Claim sold = dated(Claim{"shape:s", "sold-by", {Value::Type::entity, "company:x", ""}, "", "", false}, "1950/1955");
    dated(Claim{"shape:s", "sold-by", {Value::Type::entity, "company:y", ""}, "", "", false}, "1939/1952");
    graph.write();
    TraceQuestion question;
    question.from = graph.snapshot().need("line:a");
    question.to_kind = "company";
    const auto path = [&](const char* text) {
        Problems problems;
        return parse_path(text, graph.snapshot().vocabulary(), problems);
    };
    question.via = path("built-on/sold-by");
    const TraceAnswer answer = trace(graph.snapshot(), graph.weigher(), question);
    REQUIRE(answer.chains.size() == 2);
    for (const TraceChain& chain : answer.chains) {
        const bool to_x = graph.snapshot().key_of(chain.end()) == "company:x";
        CHECK(chain.time.possible == !to_x);
        CHECK(chain.time.bound);
        if (to_x) {
            REQUIRE(chain.time.clash);
            CHECK(chain.time.clash->first == graph.ref(sold));    // begins last
            CHECK(chain.time.clash->second == graph.ref(built));  // ends first
        } else {
            CHECK(time::to_text(chain.time.common) == "1939-01-01 to 1940-12-31");
        }
    }
    const auto ends_during = [&](const char* during) {
        question.during = during;
        std::vector<std::string> keys;
        for (const TraceChain& chain : trace(graph.snapshot(), graph.weigher(), question).chains)
            keys.push_back(graph.snapshot().key_of(chain.end()));
        return keys;
    };
    CHECK(ends_during("1940") == Keys{"company:y"});
    CHECK(ends_during("1936/1938").empty());
    CHECK(ends_during("1952").empty());
    CHECK(ends_during("1930/1960") == Keys{"company:y"});
    CHECK_THROWS_AS(ends_during("19u5"), UsageFault);
}

TEST_CASE("private claims are not followed when they are to be left out", "[trace]") {
    SmallGraph graph;
    Claim claim{"line:l", "sold-by", {Value::Type::entity, "company:x", ""}, "", "", true};
    graph.add(claim);
    graph.witness(claim, .9);
    graph.write();
    TraceQuestion question;
    question.from = graph.snapshot().need("line:l");
    CHECK(trace(graph.snapshot(), graph.weigher(), question).chains.size() == 1);
    question.with_private = false;
    CHECK(trace(graph.snapshot(), graph.weigher(), question).chains.empty());
}

TEST_CASE("a faulty question says what is wrong", "[trace]") {
    Northern northern;
    TraceQuestion question = northern.question();
    question.to_kind = "compny";
    CHECK_THROWS_WITH(northern.ask(question), Catch::Contains("did you mean \"company\""));
    question.to_kind = "company";
    question.limits.best = 0;
    CHECK_THROWS_AS(northern.ask(question), UsageFault);
}

TEST_CASE("the answer as JSON has the documented shape", "[trace]") {
    Northern northern;
    TraceQuestion question = northern.question();
    question.via = northern.path("built-on/sold-by");
    const nlohmann::json json = to_json(northern.ask(question), northern.graph.snapshot());
    CHECK(json.at("from") == "line:northern");
    CHECK(json.at("to").is_null());
    CHECK(json.at("to_kind") == "company");
    REQUIRE(json.at("paths").size() == 1);
    const auto& path = json.at("paths")[0];
    CHECK(path.at("support").get<double>() == Approx(.45));
    REQUIRE(path.at("steps").size() == 2);
    const auto& step = path.at("steps")[1];
    CHECK(step.at("claim") == id_of(northern.sold).full());
    CHECK(step.at("subject") == "shape:lantern");
    CHECK(step.at("relation") == "sold-by");
    CHECK(step.at("object") == "company:harbour-hotels");
    REQUIRE(step.at("evidence").size() == 1);
    CHECK(step.at("evidence")[0].at("stance") == "for");
    CHECK(step.at("evidence")[0].at("claim") == step.at("claim"));
    for (const char* member : {"raw", "conditioned", "uncontested", "method", "half_width"}) {
        INFO(member);
        CHECK(json.at("joint").contains(member));
    }
    CHECK(json.at("joint").at("raw").get<double>() == Approx(.45));
    CHECK(json.at("joint").at("method") == "exact");
    CHECK(json.contains("band"));
}
