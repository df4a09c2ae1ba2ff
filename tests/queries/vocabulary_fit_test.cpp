#include "queries/vocabulary_fit.h"

#include <catch2/catch.hpp>

#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

Vocabulary vocabulary(const std::string& to) {
    Problems problems;
    auto read = Vocabulary::parse(R"({"vocabulary": "v", "version": "1", "kinds": {"item": {"label": "i"}, "shape": {"label": "s"}, "source": {"label": "s"}},
        "relations": {"of": {"from": ["item"], "to": [)" + to + R"(], "label": "of"}}})", problems);
    REQUIRE(read);
    return *read;
}

}  // namespace

TEST_CASE("every value type, list and kind of a graph is held against another vocabulary", "[vocabulary_fit]") {
    testing::TemporaryFolder folder;
    Store store = Store::create(folder.path() / "g", {vocabulary(R"("shape", "text", "date", "number")").document(), "", "t", "2026-01-01T00:00:00Z"});
    ChangeHead head;
    head.verb = "load";
    head.time = "2026-01-02T00:00:00Z";
    Change change = store.begin(head);
    for (int i = 0; i < 5; ++i) change.put(Claim{"item:" + std::to_string(i), "of", {Value::Type::text, "x", ""}, "", "", false});
    change.put(Claim{"item:a", "of", {Value::Type::date, "1950", ""}, "", "", false});
    change.put(Claim{"item:a", "of", {Value::Type::number, "2", "l"}, "", "", false});
    change.put(Claim{"item:a", "of", {Value::Type::entity, "shape:s", ""}, "", "", false});
    Listing list;
    list.source = "source:s";
    list.subject = "item:a";
    list.relation = "of";
    change.put(list);
    change.commit();
    const auto graph = store.snapshot();
    Privacy privacy(*graph, true);
    CHECK(misfits_of(*graph, graph->vocabulary(), privacy).empty());
    const auto found = misfits_of(*graph, vocabulary(R"("item")"), privacy);
    REQUIRE(found.size() == 4);
    CHECK(found[0].what == "\"of\" leads to a date");
    CHECK(found[1].what == "\"of\" leads to a number");
    CHECK(found[2].what == "\"of\" leads to a text");
    CHECK(found[2].count == 5);
    CHECK(found[2].examples.size() == 3);
    CHECK(found[3].what == "\"of\" leads to things of the kind \"shape\"");
    Problems problems;
    const auto other = Vocabulary::parse(R"({"vocabulary": "w", "version": "1", "kinds": {"item": {"label": "i"}}, "relations": {"off": {"from": ["item"], "to": ["item"], "label": "off"}}})", problems);
    const auto missing = misfits_of(*graph, *other, privacy);
    REQUIRE(missing.size() == 3);
    CHECK(missing[0].what == "unknown kind \"shape\"");
    CHECK(missing[1].what == "unknown kind \"source\"");
    CHECK(missing[2].what == "unknown relation \"of\" (did you mean \"off\"?)");
    CHECK(missing[2].count == 9);  // eight claims and a list
    CHECK(kinds_missing(graph->vocabulary(), *other).empty());
    CHECK(kinds_missing(*other, graph->vocabulary()) == std::vector<std::string>{"shape", "source"});
    CHECK(relations_missing(graph->vocabulary(), *other) == std::vector<std::string>{"off"});
}
