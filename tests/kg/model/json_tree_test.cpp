#include "kg/model/json_tree.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "kg/model/json_write.h"

using namespace saggar;
using nlohmann::json;

namespace {

// The tree as the other library's value, to compare the two.
json as_json(const JsonTree& tree, const JsonNode& node) {
    switch (node.type) {
        case JsonNode::Type::null:
            return nullptr;
        case JsonNode::Type::boolean:
            return node.truth;
        case JsonNode::Type::number:
            return json::parse(node.text);
        case JsonNode::Type::string:
            return std::string(node.text);
        case JsonNode::Type::array: {
            json out = json::array();
            for (const JsonNode* child = tree.first(node); child; child = tree.next(*child)) {
                out.push_back(as_json(tree, *child));
            }
            return out;
        }
        case JsonNode::Type::object: {
            json out = json::object();
            for (const JsonNode* child = tree.first(node); child; child = tree.next(*child)) {
                out[std::string(child->key)] = as_json(tree, *child);
            }
            return out;
        }
    }
    return nullptr;
}

Problem the_json_problem(std::string_view text) {
    Problems problems;
    JsonTree tree;
    CHECK_FALSE(tree.parse(TextLines("f.json", text), problems));
    REQUIRE(problems.errors() == 1);
    return problems.list().front();
}

}  // namespace

TEST_CASE("a JSON tree holds what the JSON library reads", "[json_tree]") {
    // The first is the example object of RFC 8259, section 13.
    for (const std::string text :
         {R"({"Image": {"Width": 800, "Height": 600, "Title": "View from 15th Floor",
        "Thumbnail": {"Url": "http://www.example.com/image/481989943", "Height": 125, "Width": 100},
        "Animated" : false, "IDs": [116, 943, 234, 38793]}})",
          R"("")", R"( [ ] )", "{}", "-0.5e+3", "null", R"(["\u00e8\ud834\udd1e\n\/\"\\", "è𝄞"])",
          R"({"a":{"b":[[],[{}],{"c":[]}]},"d":true})"}) {
        INFO(text);
        Problems problems;
        JsonTree tree;
        REQUIRE(tree.parse(TextLines("f.json", text), problems));
        CHECK(as_json(tree, tree.root()) == json::parse(text));
    }
}

TEST_CASE("every value knows its bytes", "[json_tree]") {
    const std::string text = R"({"sèvres": [10, "t\"wo"], "x" : true})";
    Problems problems;
    JsonTree tree;
    REQUIRE(tree.parse(TextLines("f.json", text), problems));
    const JsonNode* list = tree.member(tree.root(), "sèvres");
    REQUIRE(list);
    CHECK(text.substr(list->begin, list->end - list->begin) == R"([10, "t\"wo"])");
    CHECK(text.substr(list->key_begin, list->key_end - list->key_begin) == "\"sèvres\"");
    CHECK(tree.first(*list)->text == "10");
    CHECK(tree.next(*tree.first(*list))->text == "t\"wo");
    CHECK(tree.member(tree.root(), "y") == nullptr);
}

TEST_CASE("what is not JSON is refused at its place", "[json_tree]") {
    struct Row {
        std::string text;
        std::string id;
        std::uint32_t line, column;
    };
    for (const Row& row : std::vector<Row>{{"", "json-syntax", 1, 1},
                                           {"{\"a\": 1,}", "json-syntax", 1, 9},
                                           {"[1,]", "json-syntax", 1, 4},
                                           {"{\"a\": 1\n \"b\": 2}", "json-syntax", 2, 2},
                                           {"[1, 2", "json-syntax", 1, 6},
                                           {"{'a': 1}", "json-syntax", 1, 2},
                                           {"[01]", "json-syntax", 1, 3},
                                           {"[1.]", "json-syntax", 1, 4},
                                           {"[.5]", "json-syntax", 1, 2},
                                           {"[+1]", "json-syntax", 1, 2},
                                           {"[1e]", "json-syntax", 1, 4},
                                           {"[NaN]", "json-syntax", 1, 2},
                                           {"[truE]", "json-syntax", 1, 2},
                                           {"[1] x", "json-trailing", 1, 5},
                                           {"[\"a\tb\"]", "json-syntax", 1, 4},
                                           {"[\"a", "json-unclosed-string", 1, 2},
                                           {"[\"\\x\"]", "json-bad-escape", 1, 3},
                                           {"[\"\\ud834\"]", "json-bad-escape", 1, 3},
                                           {"[\"\\udd1e\"]", "json-bad-escape", 1, 3},
                                           {"[\"\\ud834\\u0041\"]", "json-bad-escape", 1, 3},
                                           {"[\"\\u0000\"]", "json-bad-escape", 1, 3},
                                           {"[\"\\u12\"]", "json-bad-escape", 1, 3},
                                           {"{\"a\":1,\n\"b\":2,\"a\":3}", "json-duplicate-key", 2, 7},
                                           {"[\"\xFF\"]", "json-not-utf8", 1, 1},
                                           {std::string(65, '[') + std::string(65, ']'), "json-too-deep", 1, 65},
                                           {std::string(500000, '['), "json-too-deep", 1, 65}}) {
        const Problem problem = the_json_problem(row.text);
        INFO(row.text.substr(0, 80) << " -> " << problem.message);
        CHECK(problem.id == row.id);
        CHECK(problem.place.line == row.line);
        CHECK(problem.place.column == row.column);
    }
    Problems problems;
    JsonTree tree;
    const std::string deep = std::string(64, '[') + std::string(64, ']');
    CHECK(tree.parse(TextLines("f.json", deep), problems));
}

// Texts made of JSON's own signs, right and wrong: this parser and the library must take and refuse the same ones,
// except for what is refused here on purpose (duplicate names, U+0000).
TEST_CASE("mutated texts are taken and refused as by the JSON library", "[json_tree]") {
    rc::prop("same verdict, same value", [] {
        const auto pieces = *rc::gen::container<std::vector<std::string>>(
            rc::gen::element<std::string>("{", "}", "[", "]", ",", ":", "\"a\"", "\"b\"", "1", "-2.5e1", "true", "null",
                                          " ", "\"", "\\n", "\\u00e8", "0"));
        std::string text;
        for (const std::string& piece : pieces) text += piece;
        Problems problems;
        JsonTree tree;
        const bool taken = tree.parse(TextLines("f", text), problems);
        const json other = json::parse(text, nullptr, false);
        if (!taken && problems.list().front().id == "json-duplicate-key") return;
        RC_ASSERT(taken == !other.is_discarded());
        if (taken) RC_ASSERT(as_json(tree, tree.root()) == other);
    });
}

TEST_CASE("written strings and numbers read back the same", "[json_write]") {
    rc::prop("strings", [](const std::string& bytes) {
        std::string text;
        for (const char c : bytes) text += static_cast<char>(c & 0x7F) ? static_cast<char>(c & 0x7F) : ' ';
        std::string out;
        append_json_string(text, out);
        RC_ASSERT(json::parse(out).get<std::string>() == text);
    });
    rc::prop("numbers", [](double number) {
        if (!std::isfinite(number)) return;
        std::string out;
        append_json_number(number, out);
        double back = 0;
        RC_ASSERT(read_json_number(out, back));
        RC_ASSERT(back == number);
    });
}
