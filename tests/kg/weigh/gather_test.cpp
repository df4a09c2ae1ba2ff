// What belongs to a question: rivals, dates, lists, corrections, identities.
#include "kg/weigh/gather.h"

#include <catch2/catch.hpp>

#include "kg/weigh/overlap.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;

namespace {

Claim dated(const std::string& date, const std::string& scope = "") {
    return {"shape:it", "introduced-in", {Value::Type::date, date, ""}, scope, "", false};
}
Claim entity_claim(const std::string& subject, const std::string& relation, const std::string& object,
                   const std::string& scope = "", const std::string& when = "") {
    return {subject, relation, {Value::Type::entity, object, ""}, scope, when, false};
}

// Whether the two claims, each with one witness, contradict each other.
bool conflict(const Claim& a, const Claim& b, std::optional<int> tolerance_of_a = {}) {
    SmallGraph graph;
    graph.add(a);
    graph.add(b);
    graph.source("a", .8).tolerance_years = tolerance_of_a;
    graph.reading(a, "a");
    graph.source("b", .8);
    graph.reading(b, "b");
    graph.write();
    const double both = graph.weigh(a).masses.both;
    CHECK(both == graph.weigh(b).masses.both);
    return both > 0;
}

Ruling accepted(const Claim& claim) {
    Ruling ruling;
    ruling.claim = id_of(claim);
    ruling.decision = Ruling::Decision::accepted;
    ruling.reasons = "the same firm";
    return ruling;
}

}  // namespace

TEST_CASE("dates conflict only when the days they allow are disjoint", "[gather]") {
    CHECK(conflict(dated("1935"), dated("1936")));
    CHECK_FALSE(conflict(dated("1935"), dated("1935-06")));
    CHECK_FALSE(conflict(dated("193X"), dated("1935")));
    CHECK_FALSE(conflict(dated("1930/1935"), dated("1935/1940")));
    CHECK(conflict(dated("1930/1934"), dated("1935/1940")));
}

TEST_CASE("about widens a date by the profile's years, or by its source's", "[gather]") {
    CHECK_FALSE(conflict(dated("1935~"), dated("1939")));  // five years by convention
    CHECK(conflict(dated("1935~"), dated("1942")));
    CHECK_FALSE(conflict(dated("1935~"), dated("1942"), 10));
    CHECK(conflict(dated("1935~"), dated("1937"), 1));
    CHECK(conflict(dated("1935"), dated("1937"), 10));  // no "about", no tolerance
}

TEST_CASE("rivals need overlapping scope and time, and an at-most-one relation", "[gather]") {
    const auto modelled = [](const std::string& by, const std::string& scope = "", const std::string& when = "") {
        return entity_claim("shape:it", "modelled-by", "person:" + by, scope, when);
    };
    CHECK(conflict(modelled("a"), modelled("b")));
    CHECK(conflict(modelled("a"), modelled("b", "line:x")));
    CHECK(conflict(modelled("a", "line:x"), modelled("b", "line:x")));
    CHECK_FALSE(conflict(modelled("a", "line:x"), modelled("b", "line:y")));
    CHECK_FALSE(conflict(modelled("a", "", "1935"), modelled("b", "", "1937")));
    CHECK(conflict(modelled("a", "", "1935/1938"), modelled("b", "", "1937")));
    CHECK_FALSE(conflict(entity_claim("shape:it", "treated-with", "treatment:a"), entity_claim("shape:it", "treated-with", "treatment:b")));
}

TEST_CASE("a list speaks for what lies inside its scope and time and is not on it", "[gather]") {
    const auto against = [](const Claim& claim, const std::string& scope, const std::string& when, bool listed) {
        SmallGraph graph;
        graph.add(claim);
        graph.source("list", .9);
        Listing list;
        list.source = "source:list";
        list.subject = claim.subject;
        list.relation = claim.relation;
        list.scope = scope;
        list.when = when;
        list.completeness = .5;
        graph.add(list);
        if (listed) graph.reading(claim, "list");
        graph.write();
        return graph.weigh(claim).masses.against_only;
    };
    const Claim plain = entity_claim("shape:tern", "comprises", "article:tureen");
    const Claim in_1962 = entity_claim("shape:tern", "comprises", "article:tureen", "", "1962-03");
    const Claim for_buyer = entity_claim("shape:tern", "comprises", "article:tureen", "company:kitterings");
    CHECK(against(plain, "", "", false) == Approx(.45));
    CHECK(against(plain, "", "", true) == 0);
    CHECK(against(for_buyer, "", "", false) == Approx(.45));
    CHECK(against(plain, "company:kitterings", "", false) == 0);
    CHECK(against(for_buyer, "company:kitterings", "", false) == Approx(.45));
    CHECK(against(in_1962, "", "1962", false) == Approx(.45));
    CHECK(against(in_1962, "", "1963", false) == 0);
    CHECK(against(plain, "", "1962", false) == 0);  // it may have been made at another time
}

TEST_CASE("one list that leaves out two things is misread for both or for neither", "[gather]") {
    SmallGraph graph;
    const Claim a = graph.claim("comprises", "article:a"), b = graph.claim("comprises", "article:b");
    graph.source("list", .9);
    Listing list;
    list.source = "source:list";
    list.subject = a.subject;
    list.relation = a.relation;
    list.completeness = .8;
    graph.add(list);
    graph.witness(a, .5);
    graph.witness(b, .5);
    graph.write();
    // Consistent unless the list is well read and complete on a supported one: 1 - .9 (1 - (1 - .4)(1 - .4)).
    CHECK(graph.joint({{a, b}}).consistent == Approx(1 - .9 * (1 - .6 * .6)));
}

TEST_CASE("a correction by another author is ordinary counter-evidence", "[gather]") {
    SmallGraph graph;
    const Claim old_view = graph.claim("modelled-by", "person:a"), new_view = graph.claim("modelled-by", "person:b");
    graph.source("first", .8).author = "Hale";
    graph.source("second", .85).author = "Lethering";
    const Evidence old_reading = graph.reading(old_view, "first");
    Evidence correction;
    correction.claim = id_of(new_view);
    correction.source = "source:second";
    correction.corrects = id_of(old_reading);
    graph.add(correction);
    graph.write();
    CHECK(graph.weigh(old_view).masses.both == Approx(.8 * .85));
}

TEST_CASE("the last word of an author stands, also where it is about something else", "[gather]") {
    SmallGraph graph;
    const Claim first = graph.claim("treated-with", "treatment:a"), second = graph.claim("treated-with", "treatment:b"),
                third = graph.claim("treated-with", "treatment:c");
    const std::pair<const Claim*, const char*> words[] = {{&first, "one"}, {&second, "two"}, {&third, "three"}};
    ContentId before;
    for (const auto& [claim, key] : words) {
        graph.source(key, .5).author = "Hale";
        Evidence reading;
        reading.claim = id_of(*claim);
        reading.source = std::string("source:") + key;
        reading.corrects = before;
        before = id_of(graph.add(reading));
    }
    graph.write();
    CHECK(graph.weigh(third).support == Approx(.5));
    CHECK(graph.weigh(second).support == Approx(.25));
    CHECK(graph.weigh(first).support == Approx(.125));  // neither the second nor the third word is good
    CHECK(graph.weigh(first).claims.size() == 1);       // the other claims are looked at, but are not part of the question
}

TEST_CASE("an accepted identity carries readings over, with its own weight", "[gather]") {
    SmallGraph graph;
    const Claim here = entity_claim("line:n", "sold-by", "company:northern"), there = entity_claim("line:n", "sold-by", "company:provident");
    const Claim same = entity_claim("company:northern", "same-as", "company:provident");
    for (const Claim& claim : {here, there, same}) graph.add(claim);
    graph.witness(there, .8);
    graph.witness(same, .9);
    graph.write();
    CHECK(graph.weigh(here).support == 0);  // nobody has accepted it
    const Ruling ruling = accepted(same);
    graph.add(ruling);
    graph.write();
    CHECK(graph.weigh(here).support == Approx(.72));
    CHECK(graph.weigh(there).support == Approx(.8));
    CHECK(graph.weigh(here).claims.size() == 3);
    graph.add(Withdrawal{id_of(ruling), "two firms after all"});
    graph.write();
    CHECK(graph.weigh(here).support == 0);
}

TEST_CASE("rivals reach across an accepted identity, and two names of one thing are no rivals", "[gather]") {
    SmallGraph graph;
    const Claim a = entity_claim("shape:lantern", "modelled-by", "person:maud"), b = entity_claim("shape:lanthorn", "modelled-by", "person:ilse"),
                c = entity_claim("shape:lantern", "modelled-by", "person:m-e");
    const Claim shapes = entity_claim("shape:lantern", "same-as", "shape:lanthorn"), people = entity_claim("person:maud", "same-as", "person:m-e");
    for (const Claim& claim : {a, b, c, shapes, people}) graph.add(claim);
    graph.witness(a, .8);
    graph.witness(b, .5);
    graph.witness(c, .6);
    graph.witness(shapes, .9);
    graph.witness(people, .9);
    graph.write();
    CHECK(graph.weigh(a).masses.both == Approx(.8 * .6));  // two people, for all that has been accepted
    graph.add(accepted(people));
    graph.write();
    CHECK(graph.weigh(a).masses.both == Approx(0).margin(1e-12));
    CHECK(graph.weigh(a).support == Approx(1 - .2 * (1 - .6 * .9)));
    graph.add(accepted(shapes));
    graph.write();
    // Now Ilse's claim stands against it where the shapes are one.
    CHECK(graph.weigh(a).masses.both > .3);
    CHECK(graph.weigh(b).masses.both == Approx(graph.weigh(a).masses.both));
}

TEST_CASE("copies in a circle are cut, not followed for ever", "[gather]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:blue");
    graph.source("a", .6).copied_from.push_back({"source:b", 1, 1});
    graph.source("b", .7).copied_from.push_back({"source:a", 1, 1});
    graph.reading(claim, "a");
    graph.reading(claim, "b");
    graph.write();
    CHECK(graph.weigh(claim).support == Approx(.7));  // b keeps its own word; a copies it
}

TEST_CASE("a copy of a root that is not entered stands for it, two copies for the same one", "[gather]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:blue");
    graph.source("notice", .8);
    for (const char* book : {"book-1", "book-2"}) {
        graph.source(book, .6).copied_from.push_back({"source:notice", 1, .9});
        graph.reading(claim, book);
    }
    graph.write();
    CHECK(graph.weigh(claim).support == Approx(.8 * (1 - .1 * .1)));
    CHECK(graph.weigh(claim).roots_for == 1);
}

TEST_CASE("a copy that says the opposite of its root speaks for itself", "[gather]") {
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:blue");
    graph.source("notice", .8);
    graph.against(claim, "notice");
    graph.source("book", .6).copied_from.push_back({"source:notice", 1, 1});
    graph.reading(claim, "book");
    graph.write();
    CHECK(graph.weigh(claim).masses.both == Approx(.48));
}
