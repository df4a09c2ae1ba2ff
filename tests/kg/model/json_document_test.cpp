#include "kg/model/json_document.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace saggar;

namespace {

// The only problem of a text that must be refused.
Problem the_problem(std::string_view text) {
    Problems problems;
    CHECK_FALSE(JsonDocument::read(text, "f.json", problems));
    REQUIRE(problems.errors() == 1);
    return problems.list().front();
}

std::string nested(std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); }

}  // namespace

TEST_CASE("a good document is read as the JSON library reads it", "[json_document]") {
    // The example of RFC 6901, section 5.
    const std::string text = R"({"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\j": 5,
                                 "k\"l": 6, " ": 7, "m~n": 8, "x": [-1.5e3, true, false, null, {"y": []}]})";
    Problems problems;
    const auto document = JsonDocument::read(text, "f.json", problems);
    REQUIRE(document);
    CHECK(document->root() == nlohmann::json::parse(text));
    CHECK(JsonDocument::child("", "a/b") == "/a~1b");
    CHECK(JsonDocument::child("", "m~n") == "/m~0n");
}

TEST_CASE("every value and key can be pointed at", "[json_document]") {
    const std::string text = "\xEF\xBB\xBF{\n  \"s\u00e8vres\": [10, \"t\\\"wo\", {\"deep\": -2.5}],\n  \"x\" : true\n}\n";
    Problems problems;
    const auto document = JsonDocument::read(text, "f.json", problems);
    REQUIRE(document);
    struct Row {
        std::string pointer;
        std::uint32_t line, column, length;
    };
    for (const Row& row : std::vector<Row>{{"/s\u00e8vres", 2, 13, 29},
                                           {"/s\u00e8vres/0", 2, 14, 2},
                                           {"/s\u00e8vres/1", 2, 18, 7},
                                           {"/s\u00e8vres/2/deep", 2, 36, 4},
                                           {"/x", 3, 9, 4}}) {
        const Place place = document->place_of_value(row.pointer);
        INFO(row.pointer);
        CHECK(place.line == row.line);
        CHECK(place.column == row.column);
        CHECK(place.length == row.length);
    }
    const Place key = document->place_of_key("/s\u00e8vres");
    CHECK(key.line == 2);
    CHECK(key.column == 3);
    CHECK(key.length == 8);
    CHECK(document->place_of_value("/nowhere").line == 0);
}

TEST_CASE("a key given twice is refused at its second place", "[json_document]") {
    const Problem problem = the_problem("{\"a\": 1,\n \"a\": 2}");
    CHECK(problem.id == "json-duplicate-key");
    CHECK(problem.place.line == 2);
    CHECK(problem.place.column == 2);
    CHECK(problem.place.length == 3);
}

TEST_CASE("the same key in two objects is fine", "[json_document]") {
    Problems problems;
    CHECK(JsonDocument::read(R"({"a": {"k": 1}, "b": {"k": 1}})", "f.json", problems));
}

TEST_CASE("nesting deeper than 64 is refused, 64 is not", "[json_document]") {
    Problems problems;
    CHECK(JsonDocument::read(nested(64), "f.json", problems));
    CHECK(the_problem(nested(65)).id == "json-too-deep");
    CHECK(the_problem(nested(65)).place.column == 65);
    CHECK(the_problem(std::string(500000, '[')).id == "json-too-deep");
}

TEST_CASE("broken JSON is refused at the right place", "[json_document]") {
    // json_tree_test.cpp has many more; here: that the place counts from the beginning of the document.
    CHECK(the_problem("{\"a\": 1\n \"b\": 2}").place.line == 2);
    CHECK(the_problem("{\"a\": 1\n \"b\": 2}").place.column == 2);
    CHECK(the_problem("\xEF\xBB\xBF[1, x]").place.column == 5);
    CHECK(the_problem("").id == "json-syntax");
    CHECK(the_problem("[\"\xFF\"]").id == "json-not-utf8");
}

TEST_CASE("a number that no double holds is a problem with its place") {
    Problems problems;
    CHECK_FALSE(JsonDocument::read("{\"a\":\n 1E1111}", "d.json", problems));
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "json-number");
    CHECK(problems.list()[0].place.line == 2);
    CHECK(problems.list()[0].place.column == 2);
}
