#include "kg/weigh/rules.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/document_reader.h"

namespace saggar {

namespace {

class RulesReader {
public:
    using json = nlohmann::json;

    RulesReader(const JsonDocument& document, const Vocabulary& vocabulary, Problems& problems)
        : in_(document, problems, "rule"), vocabulary_(vocabulary) {}

    std::optional<std::vector<Rule>> read() {
        const std::size_t errors_before = in_.errors();
        if (!in_.root().is_object()) return std::vector<Rule>{};
        if (const json* const rules = in_.member(in_.root(), "", "rules", json::value_t::array, "an array of rules", false)) {
            for (std::size_t i = 0; i < rules->size(); ++i) read_rule((*rules)[i], fmt::format("/rules/{}", i));
        }
        if (in_.errors() != errors_before) return std::nullopt;
        return std::move(rules_);
    }

private:
    void read_rule(const json& value, const std::string& at) {
        const std::size_t errors_before = in_.errors();
        if (!in_.is(value, json::value_t::object, at, "an object")) return;
        in_.only_fields(value, at, {"name", "when", "where", "then", "stance", "strength", "reason", "remark"});
        rule_ = {};
        rule_.name = in_.text(value, at, "name", true);
        rule_.reason = in_.text(value, at, "reason", true);
        rule_.strength = in_.number(value, at, "strength", 0, 1, true, 1);
        read_stance(value, at);
        if (!names_.insert(rule_.name).second) {
            in_.at_value("repeated-name", at + "/name", fmt::format("there are two rules named \"{}\"", rule_.name), "give each rule a name of its own");
        }
        read_when(value, at);
        read_where(value, at);
        if (const json* const then = in_.member(value, at, "then", json::value_t::array, "a condition [subject, relation, object]", true)) {
            read_pattern(*then, at + "/then", rule_.then, false);
        }
        if (in_.errors() == errors_before) check_rule(at);
        rules_.push_back(std::move(rule_));
    }

    void read_stance(const json& value, const std::string& at) {
        const std::string stance = in_.text(value, at, "stance", false);
        rule_.stance = stance == "against" ? Stance::against : Stance::in_favour;
        if (!stance.empty() && stance != "for" && stance != "against") {
            in_.at_value("bad-stance", at + "/stance", fmt::format("\"{}\" is no stance", stance), "write \"for\" or \"against\"");
        }
    }

    void read_when(const json& value, const std::string& at) {
        const json* const when = in_.member(value, at, "when", json::value_t::array, "an array of conditions", true);
        if (!when) return;
        if (when->empty()) in_.at_value("no-condition", at + "/when", "there is no condition", "add at least one [subject, relation, object]");
        for (std::size_t i = 0; i < when->size(); ++i) {
            RulePattern pattern;
            if (read_pattern((*when)[i], fmt::format("{}/when/{}", at, i), pattern, true)) rule_.when.push_back(pattern);
        }
    }

    // Three texts: subject, relation, object. `binds`: new variables are allowed.
    bool read_pattern(const json& value, const std::string& at, RulePattern& pattern, bool binds) {
        if (!three_texts(value, at)) return false;
        const std::string name = value[1].get<std::string>();
        const auto use = vocabulary_.find_use(name);
        if (!use) {
            in_.at_value("unknown-relation", at + "/1",
                         fmt::format("\"{}\" is not a relation of this vocabulary{}", name,
                                     Vocabulary::suggestion(vocabulary_.nearest_relation(name))),
                         "mend the name, or add the relation");
            return false;
        }
        const Relation& relation = vocabulary_.relation(use->relation);
        pattern.relation = relation.name;
        const char* const subject = use->inverse ? "/2" : "/0";
        const char* const object = use->inverse ? "/0" : "/2";
        const bool good_subject = read_term(value[use->inverse ? 2 : 0], at + subject, nullptr, binds, pattern.subject);
        return read_term(value[use->inverse ? 0 : 2], at + object, &relation, binds, pattern.object) && good_subject;
    }

    bool three_texts(const json& value, const std::string& at) {
        const bool good = value.is_array() && value.size() == 3 &&
                          std::all_of(value.begin(), value.end(), [](const json& one) { return one.is_string(); });
        if (!good) in_.at_value("bad-condition", at, "a condition is three texts", "write [subject, relation, object], for example [\"?line\", \"built-on\", \"?shape\"]");
        return good;
    }

    // `relation`: the term is its object and may be a value.
    bool read_term(const json& value, const std::string& at, const Relation* relation, bool binds, RuleTerm& term) {
        const std::string text = value.get<std::string>();
        if (!text.empty() && text.front() == '?') return read_variable(text.substr(1), at, binds, term);
        const auto key = split_key(text);
        const bool may_be_value = relation && (relation->to_text || relation->to_number || relation->to_date);
        if (key && (!may_be_value || vocabulary_.find_kind(key->kind))) {
            term.constant = {Value::Type::entity, text, ""};
            if (vocabulary_.find_kind(key->kind)) return true;
            in_.at_value("unknown-kind", at,
                         fmt::format("\"{}\" is not a kind of this vocabulary{}", key->kind,
                                     Vocabulary::suggestion(vocabulary_.nearest_kind(key->kind))),
                         "mend the key, or add the kind");
            return false;
        }
        if (!may_be_value) {
            in_.at_value("bad-term", at, fmt::format("\"{}\" is neither a variable nor a key", text),
                         "write a variable as \"?name\" and a thing as \"kind:slug\"");
            return false;
        }
        term.constant.type = relation->to_text ? Value::Type::text : relation->to_date ? Value::Type::date : Value::Type::number;
        term.constant.text = text;
        return true;
    }

    bool read_variable(const std::string& name, const std::string& at, bool binds, RuleTerm& term) {
        if (name.empty()) {
            in_.at_value("bad-term", at, "a variable needs a name", "write, for example, \"?shape\"");
            return false;
        }
        const auto known = std::find(rule_.variables.begin(), rule_.variables.end(), name);
        if (known == rule_.variables.end() && !binds) {
            in_.at_value("unbound-variable", at, fmt::format("the variable \"?{}\" stands in no condition", name),
                         "use a variable of \"when\", or add a condition that binds it");
            return false;
        }
        term.is_variable = true;
        term.variable = static_cast<std::uint32_t>(known - rule_.variables.begin());
        if (known == rule_.variables.end()) rule_.variables.push_back(name);
        return true;
    }

    void read_where(const json& value, const std::string& at) {
        const json* const where = in_.member(value, at, "where", json::value_t::array, "an array of tests", false);
        for (std::size_t i = 0; where && i < where->size(); ++i) read_test((*where)[i], fmt::format("{}/where/{}", at, i));
    }

    void read_test(const json& value, const std::string& at) {
        static const std::pair<const char*, RuleTest::Kind> kinds[] = {{"is", RuleTest::Kind::is},
                                                                       {"is-not", RuleTest::Kind::is_not},
                                                                       {"starts-with", RuleTest::Kind::starts_with},
                                                                       {"does-not-start-with", RuleTest::Kind::does_not_start_with}};
        if (!three_texts(value, at)) return;
        const std::string word = value[1].get<std::string>();
        const auto kind = std::find_if(std::begin(kinds), std::end(kinds), [&](const auto& one) { return word == one.first; });
        if (kind == std::end(kinds)) {
            in_.at_value("unknown-test", at + "/1", fmt::format("\"{}\" is no test", word),
                         "use is, is-not, starts-with or does-not-start-with");
            return;
        }
        RuleTest test;
        test.kind = kind->second;
        if (read_test_term(value[0], at + "/0", test.left) && read_test_term(value[2], at + "/2", test.right)) rule_.where.push_back(test);
    }

    // A constant of a test is plain text: keys and values are compared as they are written.
    bool read_test_term(const json& value, const std::string& at, RuleTerm& term) {
        const std::string text = value.get<std::string>();
        if (!text.empty() && text.front() == '?') return read_variable(text.substr(1), at, false, term);
        term.constant = {Value::Type::text, text, ""};
        return true;
    }

    // --- what only the whole rule shows ----------------------------------------------------------------------------
    void check_rule(const std::string& at) {
        check_connected(at);
        const auto same_term = [](const RuleTerm& a, const RuleTerm& b) {
            return a.is_variable == b.is_variable && (a.is_variable ? a.variable == b.variable : a.constant == b.constant);
        };
        for (const RulePattern& pattern : rule_.when) {
            if (pattern.relation == rule_.then.relation && same_term(pattern.subject, rule_.then.subject) && same_term(pattern.object, rule_.then.object)) {
                in_.at_value("circular", at + "/then", "the conclusion is one of the conditions", "conclude something that is not already a condition");
            }
        }
        if (rule_.then.subject.is_variable && is_value_variable(rule_.then.subject.variable)) {
            in_.at_value("value-as-subject", at + "/then/0", "a value cannot be the subject of a claim", "put a variable that stands for a thing here");
        }
    }

    // A variable that only stands where values stand.
    bool is_value_variable(std::uint32_t variable) const {
        for (const RulePattern& pattern : rule_.when) {
            if (pattern.subject.is_variable && pattern.subject.variable == variable) return false;
            const Relation* const relation = vocabulary_.find_relation(pattern.relation);
            const bool entity_object = relation->any_to || !relation->to.empty();
            if (pattern.object.is_variable && pattern.object.variable == variable && entity_object) return false;
        }
        return true;
    }

    // Every condition must share a thing with the conditions before it (in some order); else all pairs would be tried.
    void check_connected(const std::string& at) {
        std::set<std::uint32_t> reached;
        const auto things = [&](const RulePattern& pattern) {
            std::set<std::uint32_t> in;
            for (const RuleTerm* const term : {&pattern.subject, &pattern.object}) {
                if (term->is_variable && !is_value_variable(term->variable)) in.insert(term->variable);
            }
            return in;
        };
        std::vector<char> joined(rule_.when.size(), 0);
        for (std::size_t count = 0; count < rule_.when.size(); ++count) {
            std::size_t next = 0;
            while (next < rule_.when.size() && (joined[next] || !(count == 0 || joins(things(rule_.when[next]), reached, rule_.when[next])))) ++next;
            if (next == rule_.when.size()) {
                next = static_cast<std::size_t>(std::find(joined.begin(), joined.end(), 0) - joined.begin());
                in_.at_value("unconnected", fmt::format("{}/when/{}", at, next), "this condition has no thing in common with the others",
                             "share a variable that stands for a thing; values alone cannot join conditions");
                return;
            }
            joined[next] = 1;
            for (const std::uint32_t variable : things(rule_.when[next])) reached.insert(variable);
        }
    }

    static bool joins(const std::set<std::uint32_t>& things, const std::set<std::uint32_t>& reached, const RulePattern& pattern) {
        const bool constant = !pattern.subject.is_variable || (!pattern.object.is_variable && pattern.object.constant.type == Value::Type::entity);
        return constant || std::any_of(things.begin(), things.end(), [&](std::uint32_t variable) { return reached.count(variable) != 0; });
    }

    DocumentReader in_;
    const Vocabulary& vocabulary_;
    std::vector<Rule> rules_;
    std::set<std::string> names_;
    Rule rule_;
};

}  // namespace

std::optional<std::vector<Rule>> read_rules(std::string_view document, const Vocabulary& vocabulary, Problems& problems,
                                            std::string_view file) {
    const std::optional<JsonDocument> read = JsonDocument::read(document, file, problems);
    if (!read) return std::nullopt;
    return RulesReader(*read, vocabulary, problems).read();
}

}  // namespace saggar
