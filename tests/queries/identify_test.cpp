// Naming a piece: what excludes, what only speaks for and against, what silence does, and what to look at next. All names are
// invented.
#include "queries/identify.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>


#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/identify_json.h"
#include "tests/kg/weigh/small_graph.h"
#include "tests/queries/named.h"

using namespace saggar;
using saggar::testing::SmallGraph;
using saggar::testing::named;
using saggar::testing::sighting;

namespace {

double fit(SmallGraph& graph, const IdentifyAnswer& answer, const std::string& key) {
    for (const Candidate& one : answer.candidates)
        if (graph.snapshot().key_of(one.thing.id) == key) return one.fit;
    return -1;
}

bool is_excluded(SmallGraph& graph, const IdentifyAnswer& answer, const std::string& key) {
    for (const Excluded& one : answer.excluded)
        if (graph.snapshot().key_of(one.thing) == key) return true;
    return false;
}

// Four items: one known to have the rest, one known not to, one denied weakly, one of which nothing is known.
struct Jugs {
    SmallGraph graph;
    Jugs() {
        graph.witness(graph.claim("has-feature", "feature:rest", "item:with"), .9);
        graph.witness(graph.claim("has-feature", "feature:rest", "item:without"), .9, Stance::against);
        graph.witness(graph.claim("has-feature", "feature:rest", "item:doubted"), .3, Stance::against);
        graph.witness(graph.claim("has-feature", "feature:lip", "item:silent"), .9);
        graph.write();
    }
};

}  // namespace

TEST_CASE("only a documented negative excludes; silence counts alike for all", "[identify]") {
    Jugs jugs;
    const IdentifyAnswer answer = named(jugs.graph, {"has-feature feature:rest"});
    CHECK(answer.separates);
    CHECK(answer.kind == "item");
    REQUIRE(answer.excluded.size() == 1);
    CHECK(is_excluded(jugs.graph, answer, "item:without"));
    REQUIRE(answer.excluded[0].holding.cited_against.size() == 1);
    const double with = fit(jugs.graph, answer, "item:with"), silent = fit(jugs.graph, answer, "item:silent"),
                 doubted = fit(jugs.graph, answer, "item:doubted");
    CHECK(with + silent + doubted == Approx(1));
    // By the model of identify.h with the built-in conventions: has-feature shown .95, mistaken .02, unknown .5.
    const auto chance = [](double has, double never) {
        const double h = has + .5 * (1 - has - never);
        return h * .95 + (1 - h) * .02;
    };
    const double sum = chance(.9, 0) + chance(0, 0) + chance(0, .3);
    CHECK(with == Approx(chance(.9, 0) / sum));
    CHECK(silent == Approx(chance(0, 0) / sum));
    CHECK(doubted == Approx(chance(0, .3) / sum));
    // Looked for and not there: nothing is excluded, and the order turns round.
    const IdentifyAnswer missing = named(jugs.graph, {}, {"has-feature feature:rest"});
    CHECK(missing.excluded.empty());
    CHECK(missing.candidates.front().thing.id == jugs.graph.snapshot().need("item:without"));
    CHECK(missing.candidates.back().thing.id == jugs.graph.snapshot().need("item:with"));
}

TEST_CASE("what nothing is known of separates nothing, and that is said", "[identify]") {
    Jugs jugs;
    jugs.graph.witness(jugs.graph.claim("has-feature", "feature:odd", "mark:m"), .9);
    jugs.graph.write();
    const IdentifyAnswer answer = named(jugs.graph, {"has-feature feature:odd"});
    CHECK_FALSE(answer.separates);
    CHECK(answer.candidates.size() == 4);
    CHECK(answer.candidates.front().fit == Approx(.25));
    CHECK_FALSE(answer.next.empty());  // but there is something to look at
    IdentifyQuestion nothing;
    CHECK_THROWS_AS(identify(jugs.graph.snapshot(), jugs.graph.weigher(), nothing), UsageFault);
}

TEST_CASE("what is broader, narrower or shown passes on; a denial only from the broader", "[identify]") {
    SmallGraph graph;
    for (const char* item : {"item:a-jug", "item:a-pot"}) graph.witness(graph.claim("of-shape", "shape:a", item), 1 - 1e-3);
    graph.witness(graph.claim("of-shape", "shape:b", "item:b-jug"), 1 - 1e-3);
    for (const char* item : {"item:a-jug", "item:b-jug"}) graph.witness(graph.claim("article-of", "article:jug", item), 1 - 1e-3);
    graph.witness(graph.claim("article-of", "article:pot", "item:a-pot"), 1 - 1e-3);
    graph.witness(graph.claim("has-feature", "feature:rope", "shape:a"), .9);
    graph.witness(graph.claim("has-feature", "feature:rope", "shape:b"), .9, Stance::against);
    graph.witness(graph.claim("has-feature", "feature:lip", "item:a-jug"), .9);
    graph.witness(graph.claim("treated-with", "treatment:t", "item:a-pot"), .9);
    graph.witness(graph.claim("technique", "technique:transfer", "treatment:t"), .9);
    graph.write();
    const IdentifyAnswer rope = named(graph, {"has-feature feature:rope"});
    CHECK(is_excluded(graph, rope, "item:b-jug"));
    CHECK(fit(graph, rope, "item:a-jug") == Approx(fit(graph, rope, "item:a-pot")));
    // The article: of another form than the one seen is evidence against.
    for (const char* words : {"article-of article:jug", "instance-of article:jug"}) {
        const IdentifyAnswer jug = named(graph, {words});
        INFO(words);
        CHECK(is_excluded(graph, jug, "item:a-pot"));
        CHECK(fit(graph, jug, "item:a-jug") == Approx(.5).margin(.001));
    }
    // A treatment shows its technique.
    const IdentifyAnswer transfer = named(graph, {"technique technique:transfer"});
    CHECK(transfer.candidates.front().thing.id == graph.snapshot().need("item:a-pot"));
    // Of shapes: what one item has, the shape has somewhere.
    IdentifyQuestion shapes;
    shapes.kind = "shape";
    const IdentifyAnswer lip = named(graph, {"has-feature feature:lip"}, {}, shapes);
    CHECK(lip.candidates.front().thing.id == graph.snapshot().need("shape:a"));
    const IdentifyAnswer form = named(graph, {"article-of article:pot"}, {}, shapes);
    CHECK(form.kind == "shape");
    CHECK(is_excluded(graph, rope, "item:b-jug"));
    REQUIRE(rope.broader.size() >= 1);
    CHECK(rope.broader.back().thing == graph.snapshot().need("shape:a"));
    CHECK(rope.broader.back().fit == Approx(1));
}

TEST_CASE("what is in dispute excludes nobody", "[identify]") {
    SmallGraph graph;
    const Claim rest = graph.claim("has-feature", "feature:rest", "item:a");
    graph.witness(rest, .6);
    graph.witness(rest, .9, Stance::against);
    graph.witness(graph.claim("has-feature", "feature:rest", "item:b"), .9);
    graph.write();
    const IdentifyAnswer answer = named(graph, {"has-feature feature:rest"});
    CHECK(answer.excluded.empty());
    CHECK(answer.candidates.back().holdings[0].never == Approx(.9 * .4 / (1 - .54)));
    CHECK(answer.candidates.back().holdings[0].both == Approx(.54));
}

TEST_CASE("a denial for one buyer or one year excludes nobody", "[identify]") {
    SmallGraph graph;
    Claim limited{"item:a", "has-feature", {Value::Type::entity, "feature:rest", ""}, "line:galley", "", false};
    graph.add(limited);
    graph.witness(limited, .95, Stance::against);
    graph.witness(graph.claim("has-feature", "feature:rest", "item:b"), .9);
    graph.witness(graph.claim("has-feature", "feature:lip", "item:c"), .9);
    graph.write();
    const IdentifyAnswer answer = named(graph, {"has-feature feature:rest"});
    CHECK(answer.excluded.empty());
    CHECK(fit(graph, answer, "item:a") == Approx(fit(graph, answer, "item:c")));
}

TEST_CASE("what was denied of a treatment is not denied of what it was put on", "[identify]") {
    SmallGraph graph;
    graph.witness(graph.claim("of-shape", "shape:a", "item:a"), .95);
    graph.witness(graph.claim("treated-with", "treatment:u", "shape:a"), .95);
    graph.witness(graph.claim("treated-with", "treatment:u", "item:b"), .95);
    graph.witness(graph.claim("treated-with", "treatment:t", "item:c"), .95);
    graph.witness(graph.claim("technique", "technique:transfer", "treatment:u"), .95, Stance::against);
    graph.witness(graph.claim("technique", "technique:transfer", "treatment:t"), .95);
    graph.write();
    const IdentifyAnswer answer = named(graph, {"technique technique:transfer"});
    CHECK(answer.excluded.empty());
    CHECK(answer.candidates.front().thing.id == graph.snapshot().need("item:c"));
    CHECK(fit(graph, answer, "item:a") == Approx(fit(graph, answer, "item:b")));
}

TEST_CASE("dates exclude where no day is left, slack allowed for", "[identify]") {
    SmallGraph graph;
    const auto dated = [&](const char* thing, const char* relation, const char* when) {
        graph.witness(graph.claim(relation, when, thing, Value::Type::date), .9);
    };
    for (const char* item : {"item:early", "item:late", "item:undated"}) graph.witness(graph.claim("has-feature", "feature:foot", item), .9);
    dated("item:early", "introduced-in", "1930");
    dated("item:early", "dropped-in", "1940");
    dated("item:late", "introduced-in", "1950");
    dated("mark:anchor", "used-between", "1952/1960");
    graph.write();
    IdentifyAnswer answer = named(graph, {"has-feature feature:foot", "made-in-year 1945"});
    CHECK(is_excluded(graph, answer, "item:early"));
    CHECK(is_excluded(graph, answer, "item:late"));
    CHECK(fit(graph, answer, "item:undated") == Approx(1));
    REQUIRE(answer.excluded.size() == 2);
    CHECK_FALSE(answer.excluded[0].sighting);
    CHECK(answer.excluded[0].window.latest_claims.size() == 1);
    // The vocabulary lets pieces be made until a year after an item is dropped, and from half a year before it is introduced.
    CHECK_FALSE(is_excluded(graph, named(graph, {"made-in-year 1941"}), "item:early"));
    CHECK(is_excluded(graph, named(graph, {"made-in-year 1943"}), "item:early"));
    CHECK_FALSE(is_excluded(graph, named(graph, {"made-in-year 1949"}), "item:late"));
    // A mark dates as well.
    answer = named(graph, {"bears-mark mark:anchor"});
    CHECK(is_excluded(graph, answer, "item:early"));
    CHECK(answer.earliest == time::day_of({1952, 1, 1}));
    // What was seen cannot all be true: then dates exclude nobody.
    answer = named(graph, {"bears-mark mark:anchor", "made-in-year 1935"});
    CHECK(answer.times_clash);
    CHECK(answer.excluded.empty());
}

TEST_CASE("a candidate under two names is one candidate", "[identify]") {
    SmallGraph graph;
    graph.witness(graph.claim("has-feature", "feature:rope", "item:a"), .9);
    graph.witness(graph.claim("has-feature", "feature:lip", "item:a-also"), .9);
    graph.witness(graph.claim("has-feature", "feature:foot", "item:b"), .9);
    const Claim same = graph.claim("same-as", "item:a-also", "item:a");
    graph.witness(same, .9);
    graph.write();
    const auto as_json = [&] {
        IdentifyQuestion question;
        for (const char* words : {"has-feature feature:rope", "has-feature feature:lip"}) question.sightings.push_back(sighting(graph, words));
        return to_json(identify(graph.snapshot(), graph.weigher(), question), question, graph.snapshot(), graph.weigher().profile(), 9).dump();
    };
    CHECK(named(graph, {"has-feature feature:rope", "has-feature feature:lip"}).candidates.size() == 3);
    const std::string before = as_json();
    const Ruling ruling{id_of(same), Ruling::Decision::accepted, "one jug", {}, "tester", "2026-01-02", false};
    graph.add(ruling);
    graph.write();
    const IdentifyAnswer merged = named(graph, {"has-feature feature:rope", "has-feature feature:lip"});
    REQUIRE(merged.candidates.size() == 2);
    CHECK(merged.candidates[0].thing.names.size() == 2);
    CHECK(merged.candidates[0].holdings[0].says_something());
    CHECK(merged.candidates[0].holdings[1].says_something());
    graph.add(Withdrawal{id_of(ruling), "two after all"});
    graph.write();
    CHECK(as_json() == before);
}

TEST_CASE("private things and claims name nothing unless they are asked for", "[identify]") {
    SmallGraph graph;
    Claim secret{"item:a", "has-feature", {Value::Type::entity, "feature:rope", ""}, "", "", true};
    graph.add(secret);
    graph.witness(secret, .9);
    graph.witness(graph.claim("has-feature", "feature:rope", "item:b"), .9);
    graph.witness(graph.claim("has-feature", "feature:lip", "item:a"), .9);
    graph.write();
    IdentifyQuestion open;
    open.with_private = false;
    const IdentifyAnswer hidden = named(graph, {"has-feature feature:rope"}, {}, open), shown = named(graph, {"has-feature feature:rope"});
    CHECK(fit(graph, hidden, "item:b") > fit(graph, hidden, "item:a"));
    CHECK(fit(graph, shown, "item:b") == Approx(fit(graph, shown, "item:a")));
    CHECK(to_json(hidden, open, graph.snapshot(), graph.weigher().profile(), 9).dump().find(id_of(secret).full()) == std::string::npos);
}

TEST_CASE("a withdrawn claim names nothing", "[identify]") {
    Jugs jugs;
    jugs.graph.add(Withdrawal{id_of(Claim{"item:without", "has-feature", {Value::Type::entity, "feature:rest", ""}, "", "", false}), "misread"});
    jugs.graph.write();
    const IdentifyAnswer answer = named(jugs.graph, {"has-feature feature:rest"});
    CHECK(answer.excluded.empty());
    CHECK(fit(jugs.graph, answer, "item:without") == -1);  // nothing is left of it but its name
    jugs.graph.witness(jugs.graph.claim("has-feature", "feature:lip", "item:without"), .9);
    jugs.graph.write();
    const IdentifyAnswer again = named(jugs.graph, {"has-feature feature:rest"});
    CHECK(fit(jugs.graph, again, "item:without") == Approx(fit(jugs.graph, again, "item:silent")));
}

TEST_CASE("words that cannot be read are problems with their place and the nearest word", "[identify]") {
    Jugs jugs;
    struct Wrong {
        const char* words;
        const char* id;
        std::uint32_t column;
        const char* told;
    };
    Privacy privacy(jugs.graph.snapshot(), true);
    for (const Wrong& wrong : {Wrong{"", "sighting-empty", 1, "nothing"}, Wrong{"has-featur feature:rest", "sighting-relation", 1, "has-feature"},
                               Wrong{"is-feature-of item:with", "sighting-relation", 1, "is-feature-of"},
                               Wrong{"same-as item:with", "sighting-relation", 1, "same-as"}, Wrong{"has-feature", "sighting-object", 1, "has-feature"},
                               Wrong{"has-feature feature:ret", "", 0, ""},  // text is taken as text: see below
                               Wrong{"treated-with feature:rest", "sighting-kind", 14, "treatment"},
                               Wrong{"article-of rest", "sighting-object", 12, "article"}, Wrong{"made-in-year never", "sighting-date", 14, "never"},
                               Wrong{"capacity 1.14 l", "sighting-number", 10, "1.14 l"},
                               Wrong{"introduced-in 1950", "sighting-date", 15, "introduced-in"}}) {
        Problems problems;
        const auto read = read_sighting(jugs.graph.snapshot(), privacy, wrong.words, true, "--seen", problems);
        INFO(wrong.words);
        if (std::string(wrong.words) == "has-feature feature:ret") {
            // A key of a kind that the relation takes is a key, never text.
            REQUIRE_FALSE(read);
            CHECK(problems.list().front().message.find("feature:rest") != std::string::npos);
            continue;
        }
        REQUIRE_FALSE(read);
        REQUIRE(problems.list().size() == 1);
        CHECK(problems.list().front().id == wrong.id);
        CHECK(problems.list().front().place.file == "--seen");
        CHECK(problems.list().front().place.column == wrong.column);
        CHECK(problems.list().front().message.find(wrong.told) != std::string::npos);
        CHECK_FALSE(problems.list().front().next_step.empty());
    }
    Problems not_there;
    CHECK_FALSE(read_sighting(jugs.graph.snapshot(), privacy, "made-in-year 1950", false, "--not-seen", not_there));
    CHECK(not_there.list().front().id == "sighting-date");
    // Text that nobody has used is a slip; said twice it would count twice.
    for (const char* words : {"has-feature rets", "has-feature something else"}) {
        Problems problems;
        CHECK_FALSE(read_sighting(jugs.graph.snapshot(), privacy, words, true, "--seen", problems));
    }
    jugs.graph.witness(jugs.graph.claim("has-feature", "a chip on the lid", "item:with", Value::Type::text), .9);
    jugs.graph.write();
    CHECK(named(jugs.graph, {"has-feature A chip on the lid"}).candidates.front().thing.id == jugs.graph.snapshot().need("item:with"));
    CHECK_THROWS_AS(named(jugs.graph, {"has-feature rest", "has-feature feature:rest"}), UsageFault);
    CHECK_THROWS_AS(named(jugs.graph, {"has-feature rest"}, {"has-feature rest"}), UsageFault);
    IdentifyQuestion odd;
    odd.kind = "itme";
    CHECK_THROWS_AS(named(jugs.graph, {"has-feature feature:rest"}, {}, odd), UsageFault);
}
