// Inference rules of a vocabulary: when such claims hold, such a claim is likely.
//
//   {"name": "item-of-shape",
//    "when": [["?piece", "instance-of", "?item"], ["?item", "of-shape", "?shape"]],
//    "where": [["?piece", "is-not", "?item"]],
//    "then": ["?piece", "instance-of", "?shape"],
//    "stance": "for", "strength": .95, "reason": "an example of an item is an example of its shape"}
//
// A term is a variable ("?" and a name) or a constant: a key, or a value where the relation takes one. A relation may be
// named by its inverse. "where" tests text: "is", "is-not", "starts-with", "does-not-start-with". Ids of problems begin with "rule-".
// Semantics of Datalog (Ullman, "Principles of Database and Knowledge-Base Systems", 1988), one conclusion a rule.
//
// No rule can go on for ever. A conclusion is made of nothing but constants of the rules and what the conditions bound:
// a variable that stands in no condition is refused ("rule-unbound-variable"), there is no arithmetic and no joining of
// texts, and scope and time of a conclusion are those of one of its premises. So with n things, values, scopes and times in
// the graph and the rules, r relations draw at most r n^4 different claims, and an argument is kept once for the same
// premises. What would make that end far off is refused too: conditions that have no thing in common, and a conclusion that
// is one of the conditions. What is left of it is bounded by RuleLimits (rule_engine.h).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/record.h"

namespace saggar {

class Vocabulary;

struct RuleTerm {
    bool is_variable = false;
    std::uint32_t variable = 0;  // counted within the rule
    Value constant;              // of a subject: type entity
};

struct RulePattern {
    std::string relation;  // forwards: an inverse name is turned round on reading
    RuleTerm subject;
    RuleTerm object;
};

struct RuleTest {
    enum class Kind : std::uint8_t { is, is_not, starts_with, does_not_start_with };
    Kind kind = Kind::is;
    RuleTerm left;
    RuleTerm right;
};

struct Rule {
    std::string name;
    std::vector<RulePattern> when;
    std::vector<RuleTest> where;
    RulePattern then;
    Stance stance = Stance::in_favour;
    double strength = 1;
    std::string reason;
    std::vector<std::string> variables;  // names, without "?"
};

// The rules of a vocabulary document. Nothing where an error was found; the problems point into `document`.
std::optional<std::vector<Rule>> read_rules(std::string_view document, const Vocabulary& vocabulary, Problems& problems,
                                            std::string_view file = "vocabulary");

}  // namespace saggar
