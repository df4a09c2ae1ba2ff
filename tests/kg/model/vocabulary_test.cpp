#include "kg/model/vocabulary.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {

// An invented vocabulary of another trade, to show that nothing of tableware is in the code.
constexpr const char* pressed_glass = R"({
  "vocabulary": "pressed-glass", "version": "3", "language": "en",
  "kinds": {
    "glassworks": {"label": "glassworks", "plural": "glassworks"},
    "pattern":    {"label": "pattern", "plural": "patterns", "class": "crm:E99_Product_Type"},
    "mould":      {"label": "mould", "remark": "an iron mould; it may move from works to works"},
    "colour":     {"label": "colour"}
  },
  "relations": {
    "pressed-at":  {"from": ["pattern"], "to": ["glassworks"], "inverse": "pressed", "label": "was pressed at"},
    "cut-for":     {"from": ["mould"], "to": ["pattern"], "inverse": "cut-from", "at-most-one": true, "label": "was cut for"},
    "passed-to":   {"from": ["mould", "glassworks"], "to": ["glassworks"], "inverse": "took-over", "label": "passed to"},
    "known-in":    {"from": ["pattern"], "to": ["colour", "text"], "inverse": "is-colour-of", "label": "is known in"},
    "weighs":      {"from": ["*"], "to": ["number"], "label": "weighs"},
    "registered":  {"from": ["pattern"], "to": ["date", "text"], "label": "was registered"},
    "is-one-with": {"from": ["*"], "to": ["*"], "symmetric": true, "identity": true, "label": "is the same as"}
  },
  "time": {"points": [{"relation": "registered"}]},
  "rules": [{"name": "moved-mould"}]
})";

// Puts a piece of JSON into a small good vocabulary and returns the problems' ids.
std::vector<Problem> problems_of(const std::string& kinds, const std::string& relations, const std::string& more = "") {
    Problems problems;
    const std::string text = "{\"vocabulary\": \"v\", \"version\": \"1\", \"kinds\": {\"a\": {\"label\": \"a\"}" + kinds +
                             "}, \"relations\": {\"r\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"r\"}" + relations +
                             "}" + more + "}";
    const auto read = Vocabulary::parse(text, problems, "v.json");
    CHECK(read.has_value() == !problems.any_error());
    return problems.list();
}

}  // namespace

TEST_CASE("the built-in vocabulary loads", "[vocabulary]") {
    const Vocabulary& vocabulary = Vocabulary::standard();
    CHECK(vocabulary.name() == "tableware");
    REQUIRE(vocabulary.find_relation("commissioned-by"));
    const Relation& commissioned = *vocabulary.find_relation("commissioned-by");
    CHECK(commissioned.at_most_one);
    CHECK(commissioned.takes_subject("line"));
    CHECK_FALSE(commissioned.takes_subject("company"));
    CHECK(commissioned.takes_object("company"));
    CHECK(commissioned.takes_value(Value::Type::entity));
    CHECK_FALSE(commissioned.takes_value(Value::Type::date));
    CHECK(commissioned.property == "crm:P17_was_motivated_by");
    CHECK(commissioned.objects_in_words() == "company");
    CHECK(vocabulary.find_relation("designed-by")->objects_in_words() == "company, maker or person");
    CHECK(vocabulary.find_relation("has-feature")->objects_in_words() == "feature or text");
    CHECK(vocabulary.find_relation("same-as")->identity);
    CHECK(vocabulary.find_kind("shape")->category == "crm:E99_Product_Type");
}

TEST_CASE("names and inverse names are found", "[vocabulary]") {
    const Vocabulary& vocabulary = Vocabulary::standard();
    for (RelationIndex i = 0; i < vocabulary.relations().size(); ++i) {
        const Relation& relation = vocabulary.relation(i);
        CHECK(vocabulary.find_use(relation.name) == RelationUse{i, false});
        if (!relation.inverse.empty()) {
            CHECK(vocabulary.find_use(relation.inverse) == RelationUse{i, true});
            CHECK(vocabulary.find_relation(relation.inverse) == nullptr);
        }
    }
    CHECK_FALSE(vocabulary.find_use("hallmarked-at"));
    CHECK(vocabulary.nearest_relation("comissioned-by") == "commissioned-by");
    CHECK(vocabulary.nearest_relation("comissioned") == "commissioned");
    CHECK(vocabulary.nearest_kind("shap") == "shape");
    CHECK_FALSE(vocabulary.nearest_kind("hallmark"));
}

TEST_CASE("the vocabulary of another trade loads without new code", "[vocabulary]") {
    Problems problems;
    const auto vocabulary = Vocabulary::parse(pressed_glass, problems);
    REQUIRE(vocabulary);
    CHECK(vocabulary->name() == "pressed-glass");
    CHECK(vocabulary->kinds().size() == 4);
    CHECK(vocabulary->find_kind("mould")->plural == "mould");
    CHECK_FALSE(vocabulary->find_kind("shape"));
    CHECK(vocabulary->find_use("took-over")->inverse);
    CHECK(vocabulary->find_relation("weighs")->takes_subject("mould"));
    CHECK(vocabulary->find_relation("weighs")->subjects_in_words() == "any kind");
    CHECK_FALSE(vocabulary->find_relation("weighs")->takes_object("mould"));
    CHECK(vocabulary->find_relation("registered")->takes_value(Value::Type::date));
    CHECK(vocabulary->find_relation("registered")->takes_value(Value::Type::text));
    CHECK_FALSE(vocabulary->find_relation("registered")->takes_value(Value::Type::entity));
    CHECK(vocabulary->time_document() == R"({"points":[{"relation":"registered"}]})");
    CHECK(vocabulary->rules_document() == R"([{"name":"moved-mould"}])");
    CHECK(vocabulary->document() == pressed_glass);
}

TEST_CASE("the numbers of relations do not depend on the order in the document", "[vocabulary]") {
    Problems problems;
    const std::string head = R"({"vocabulary": "v", "version": "1", "kinds": {"a": {"label": "a"}}, "relations": {)";
    const std::string x = R"("x": {"from": ["a"], "to": ["a"], "label": "x"})";
    const std::string y = R"("y": {"from": ["a"], "to": ["a"], "label": "y"})";
    const auto one = Vocabulary::parse(head + x + "," + y + "}}", problems);
    const auto two = Vocabulary::parse(head + y + "," + x + "}}", problems);
    REQUIRE(one);
    REQUIRE(two);
    CHECK(one->find_use("y") == two->find_use("y"));
    CHECK(one->relation(1).name == "y");
}

TEST_CASE("each mistake has its problem, its place and a next step", "[vocabulary]") {
    struct Row {
        const char* kinds;
        const char* relations;
        const char* more;
        const char* id;
        const char* message;
    };
    const std::vector<Row> rows{
        {"", "", ", \"relatons\": {}", "vocabulary-unknown-field",
         "/relatons: unknown field \"relatons\" (did you mean \"relations\"?)"},
        {", \"b\": {\"label\": \"b\", \"plurl\": \"bs\"}", "", "", "vocabulary-unknown-field",
         "/kinds/b/plurl: unknown field \"plurl\" (did you mean \"plural\"?)"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"s\", \"at_most_one\": true}", "",
         "vocabulary-unknown-field", "/relations/s/at_most_one: unknown field \"at_most_one\" (did you mean \"at-most-one\"?)"},
        {", \"a\": {\"label\": \"again\"}", "", "", "json-duplicate-key", "the member \"a\" is given twice"},
        {", \"B\": {\"label\": \"b\"}", "", "", "vocabulary-bad-name", "/kinds/B: \"B\" cannot be the name of a kind"},
        {", \"text\": {\"label\": \"b\"}", "", "", "vocabulary-bad-name", "/kinds/text: \"text\" is a type of values"},
        {", \"claim\": {\"label\": \"b\"}", "", "", "vocabulary-bad-name", "/kinds/claim: \"claim\" is kept for records"},
        {", \"b\": {}", "", "", "vocabulary-missing-field", "/kinds/b: \"label\" is missing or empty"},
        {", \"b\": []", "", "", "vocabulary-wrong-type", "/kinds/b: expected an object, found array"},
        {"", ", \"s\": {\"from\": [\"aa\"], \"to\": [\"a\"], \"label\": \"s\"}", "", "vocabulary-unknown-kind",
         "/relations/s/from/0: \"aa\" is not a kind of this vocabulary (did you mean \"a\"?)"},
        {"", ", \"s\": {\"from\": [\"text\"], \"to\": [\"a\"], \"label\": \"s\"}", "", "vocabulary-unknown-kind",
         "/relations/s/from/0: \"text\" is not a kind of this vocabulary"},
        {"", ", \"s\": {\"from\": [\"a\", \"a\"], \"to\": [\"a\"], \"label\": \"s\"}", "", "vocabulary-repeated-kind",
         "/relations/s/from/1: \"a\" stands twice in this list"},
        {"", ", \"s\": {\"from\": [], \"to\": [\"a\"], \"label\": \"s\"}", "", "vocabulary-missing-field",
         "/relations/s: \"from\" is missing or empty"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": 3}", "", "vocabulary-wrong-type",
         "/relations/s/label: expected a text, found number"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"s\", \"inverse\": \"r\"}", "",
         "vocabulary-inverse-clash", "/relations/s/inverse: the name \"r\" is already taken by \"r\""},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"s\", \"inverse\": \"s\"}", "",
         "vocabulary-inverse-clash", "/relations/s/inverse: the name \"s\" is already taken by \"s\""},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"s\", \"symmetric\": true, \"inverse\": \"t\"}", "",
         "vocabulary-inverse-clash", "/relations/s/inverse: a symmetric relation is its own inverse"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"date\"], \"label\": \"s\", \"inverse\": \"t\"}", "",
         "vocabulary-inverse-of-value", "/relations/s/inverse: nothing can be read backwards from a value"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"text\", \"a\"], \"label\": \"s\", \"symmetric\": true}", "",
         "vocabulary-symmetric-value", "/relations/s: a symmetric relation cannot lead to a value"},
        {"", ", \"s\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"s\", \"identity\": true}", "",
         "vocabulary-identity-one-way", "/relations/s: an identity holds both ways"},
        {"", "", ", \"time\": []", "vocabulary-wrong-type", "/time: expected an object, found array"},
        {"", "", ", \"rules\": {}", "vocabulary-wrong-type", "/rules: expected an array, found object"},
    };
    for (const Row& row : rows) {
        INFO(row.message);
        const std::vector<Problem> found = problems_of(row.kinds, row.relations, row.more);
        REQUIRE(found.size() == 1);
        CHECK(found[0].id == row.id);
        CHECK(found[0].message == row.message);
        CHECK(found[0].place.file == "v.json");
        CHECK(found[0].place.line == 1);
        CHECK(found[0].place.column > 1);
        CHECK_FALSE(found[0].next_step.empty());
    }
    CHECK(problems_of("", "").empty());
}

TEST_CASE("two inverses with one name clash", "[vocabulary]") {
    const auto found = problems_of("", R"(, "s": {"from": ["a"], "to": ["a"], "label": "s", "inverse": "back"},
                                          "t": {"from": ["a"], "to": ["a"], "label": "t", "inverse": "back"})");
    REQUIRE(found.size() == 1);
    CHECK(found[0].message == "/relations/t/inverse: the name \"back\" is already taken by \"s\"");
    CHECK(to_text(found[0]) ==
          "v.json:2:102: error: /relations/t/inverse: the name \"back\" is already taken by \"s\" "
          "[vocabulary-inverse-clash]\n"
          "                                              \"t\": {\"from\": [\"a\"], \"to\": [\"a\"], \"label\": \"t\", "
          "\"inverse\": \"back\"}}}\n"
          "                                                                                                         ^~~~~~\n"
          "    next: give this inverse a name of its own\n");
}

TEST_CASE("what is missing at the top is said", "[vocabulary]") {
    Problems problems;
    CHECK_FALSE(Vocabulary::parse("{}", problems));
    CHECK(problems.errors() == 4);
    Problems others;
    CHECK_FALSE(Vocabulary::parse("[]", others));
    REQUIRE(others.errors() == 1);
    CHECK(others.list()[0].message == "the document: expected an object, found array");
}

TEST_CASE("headings name what there is, in words", "[vocabulary]") {
    const auto problems_with = [](const std::string& headings) {
        Problems problems;
        const auto read = Vocabulary::parse(R"({"vocabulary": "v", "version": "1", "kinds": {"a": {"label": "a"}},
            "relations": {"r": {"from": ["a"], "to": ["a"], "label": "r", "inverse": "back"}}, "headings": )" + headings + "}", problems, "v.json");
        CHECK(read.has_value() == !problems.any_error());
        return problems.list();
    };
    CHECK(problems_with(R"({"r": ["Word"], "back": [], "a": ["x", "y"], "field:label": ["Titel"]})").empty());
    const auto unknown = problems_with(R"({"q": ["Word"]})");
    REQUIRE(unknown.size() == 1);
    CHECK(unknown[0].severity == Severity::warning);
    CHECK(unknown[0].message == "/headings/q: \"q\" is no relation, kind or field; its words are passed over");
    CHECK(unknown[0].place.line == 2);
    for (const char* const wrong : {R"([])", R"({"r": "Word"})", R"({"r": [1]})"}) CHECK(problems_with(wrong).at(0).id == "vocabulary-wrong-type");
}
