#include "kg/weigh/rules.h"

#include <catch2/catch.hpp>

#include <string>

#include "kg/model/vocabulary.h"

using namespace saggar;

namespace {

// A small vocabulary with the given rules.
std::string document_with(const std::string& rules) {
    return R"({"vocabulary": "v", "version": "1", "language": "en",
  "kinds": {"piece": {"label": "piece"}, "item": {"label": "item"}, "shape": {"label": "shape"}, "treatment": {"label": "treatment"}, "company": {"label": "company"}},
  "relations": {
    "instance-of": {"from": ["piece"], "to": ["item", "shape"], "inverse": "has-instance", "label": "is an example of"},
    "of-shape": {"from": ["item"], "to": ["shape"], "inverse": "has-item", "label": "is of the shape"},
    "numbered": {"from": ["treatment"], "to": ["text"], "label": "was numbered"},
    "reserved-for": {"from": ["treatment"], "to": ["company"], "label": "was reserved for"}},
  "rules": [)" + rules + "]}";
}

struct Read {
    std::optional<std::vector<Rule>> rules;
    Problems problems;
};
Read read(const std::string& rules) {
    Read result;
    const std::string document = document_with(rules);
    Problems vocabulary_problems;
    const auto vocabulary = Vocabulary::parse(document, vocabulary_problems);
    REQUIRE(vocabulary);
    result.rules = read_rules(document, *vocabulary, result.problems, "my-vocabulary.json");
    return result;
}

constexpr const char* shape_rule = R"({"name": "shape", "when": [["?p", "instance-of", "?i"], ["?i", "of-shape", "?s"]],
    "then": ["?p", "instance-of", "?s"], "strength": 0.95, "reason": "an example of an item is an example of its shape"})";

}  // namespace

TEST_CASE("a rule is read as it is written", "[rules]") {
    const Read result = read(std::string(shape_rule) + R"(,
      {"name": "letter", "when": [["?t", "numbered", "?n"]], "where": [["?n", "starts-with", "N"], ["?n", "is-not", "N0"]],
       "then": ["?t", "reserved-for", "company:northern"], "strength": 0.8, "stance": "against", "reason": "common practice"})");
    REQUIRE(result.rules);
    REQUIRE(result.rules->size() == 2);
    const Rule& shape = result.rules->front();
    CHECK(shape.variables == std::vector<std::string>{"p", "i", "s"});
    CHECK(shape.when[1].relation == "of-shape");
    CHECK(shape.strength == .95);
    const Rule& letter = result.rules->back();
    CHECK(letter.stance == Stance::against);
    CHECK(letter.where[0].kind == RuleTest::Kind::starts_with);
    CHECK(letter.then.object.constant == Value{Value::Type::entity, "company:northern", ""});
}

TEST_CASE("a relation named backwards is turned round", "[rules]") {
    const Read result = read(R"({"name": "r", "when": [["?s", "has-item", "?i"], ["?i", "has-instance", "?p"]],
        "then": ["?p", "instance-of", "?s"], "strength": 1, "reason": "r"})");
    REQUIRE(result.rules);
    const Rule& rule = result.rules->front();
    CHECK(rule.when[0].relation == "of-shape");
    CHECK(rule.variables[rule.when[0].subject.variable] == "i");
    CHECK(rule.variables[rule.when[0].object.variable] == "s");
}

TEST_CASE("a faulty rule is refused at its place with a next step", "[rules]") {
    struct Case {
        const char* rule;
        const char* id;
        const char* pointer;
        const char* message;
    };
    const Case cases[] = {
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "?s"], "strength": 1, "reason": "r"})",
         "rule-unbound-variable", "/rules/0/then/2", "\"?s\" stands in no condition"},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "where": [["?x", "is", "y"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unbound-variable", "/rules/0/where/0/0", "\"?x\""},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "?i"], "strength": 1, "reason": "r"})",
         "rule-circular", "/rules/0/then", "one of the conditions"},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"], ["?t", "reserved-for", "?c"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unconnected", "/rules/0/when/1", "nothing" },
        {R"({"name": "r", "when": [["?t", "numbered", "?n"], ["?u", "numbered", "?n"]], "then": ["?t", "reserved-for", "company:c"], "strength": 1, "reason": "r"})",
         "rule-unconnected", "/rules/0/when/1", "no thing in common"},
        {R"({"name": "r", "when": [["?p", "instance-off", "?i"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unknown-relation", "/rules/0/when/0/1", "did you mean \"instance-of\""},
        {R"({"name": "r", "when": [["?p", "instance-of", "shap:s"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unknown-kind", "/rules/0/when/0/2", "did you mean \"shape\""},
        {R"({"name": "r", "when": [["p", "instance-of", "?i"]], "then": ["?i", "of-shape", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-bad-term", "/rules/0/when/0/0", "neither a variable nor a key"},
        {R"({"name": "r", "when": [["?p", "instance-of"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-bad-condition", "/rules/0/when/0", "three texts"},
        {R"({"name": "r", "when": [], "then": ["item:i", "of-shape", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-no-condition", "/rules/0/when", "no condition"},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1.5, "reason": "r"})",
         "rule-number-out-of-range", "/rules/0/strength", "1.5 is not between 0 and 1"},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "shape:s"], "reason": "r"})",
         "rule-missing-field", "/rules/0", "\"strength\" is missing"},
        {R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "where": [["?p", "sounds-like", "x"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unknown-test", "/rules/0/where/0/1", "\"sounds-like\" is no test"},
        {R"({"name": "r", "when": [["?t", "numbered", "?n"]], "then": ["?n", "reserved-for", "company:c"], "strength": 1, "reason": "r"})",
         "rule-value-as-subject", "/rules/0/then/0", "cannot be the subject"},
        {R"({"name": "r", "whenn": [], "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-unknown-field", "/rules/0/whenn", "did you mean \"when\""},
        {R"({"name": "r", "stance": "maybe", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "instance-of", "shape:s"], "strength": 1, "reason": "r"})",
         "rule-bad-stance", "/rules/0/stance", "\"maybe\" is no stance"},
    };
    for (const Case& it : cases) {
        INFO(it.rule);
        const Read result = read(it.rule);
        CHECK_FALSE(result.rules);
        REQUIRE_FALSE(result.problems.list().empty());
        const Problem& problem = result.problems.list().front();
        CHECK(problem.id == it.id);
        CHECK(problem.message.find(it.pointer) == 0);
        if (std::string(it.message) != "nothing") CHECK(problem.message.find(it.message) != std::string::npos);
        CHECK(problem.place.file == "my-vocabulary.json");
        CHECK(problem.place.line > 0);
        CHECK_FALSE(problem.next_step.empty());
    }
    const Read twice = read(std::string(shape_rule) + "," + shape_rule);
    CHECK(twice.problems.list().front().id == "rule-repeated-name");
}
