#include "kg/weigh/rule_engine.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/overlap.h"

namespace saggar {

namespace {

Value entity_value(const std::string& key) { return {Value::Type::entity, key, ""}; }

// Under what a claim is found by one of its ends. Others may have the same: compare the texts.
std::size_t hash_of_end(bool as_subject, const std::string& thing, const std::string& relation) {
    constexpr std::size_t odd = 0x9e3779b97f4a7c15;  // 2^64 over the golden ratio, as in Fibonacci hashing (Knuth, TAOCP 3, 6.4)
    return (std::hash<std::string>()(thing) * odd ^ std::hash<std::string>()(relation)) * odd + as_subject;
}

// The one scope of all premises; nothing where they differ.
std::optional<std::string> common_scope(const std::vector<const Claim*>& premises) {
    std::string scope;
    for (const Claim* const claim : premises) {
        if (claim->scope.empty()) continue;
        if (!scope.empty() && scope != claim->scope) return std::nullopt;
        scope = claim->scope;
    }
    return scope;
}

// The time that lies inside all the others; nothing where there is none.
std::optional<std::string> common_time(const std::vector<const Claim*>& premises) {
    std::vector<std::string> times;
    for (const Claim* const claim : premises) {
        if (!claim->when.empty() && std::find(times.begin(), times.end(), claim->when) == times.end()) times.push_back(claim->when);
    }
    if (times.size() <= 1) return times.empty() ? std::string() : times.front();
    std::sort(times.begin(), times.end());
    for (const std::string& inner : times) {
        const auto days = days_of_text(inner, 0);
        const bool inside_all = days && std::all_of(times.begin(), times.end(), [&](const std::string& outer) {
            const auto around = days_of_text(outer, 0);
            return around && around->earliest <= days->earliest && days->latest <= around->latest;
        });
        if (inside_all) return inner;
    }
    return std::nullopt;
}

}  // namespace

struct RuleEngine::Firing {
    const Rule* rule = nullptr;
    std::vector<std::optional<Value>> bound;  // by variable
    std::vector<std::optional<Known>> premise;  // by condition
};

RuleEngine::RuleEngine(const Vocabulary& vocabulary, std::vector<Rule> rules, RuleLimits limits)
    : vocabulary_(vocabulary), rules_(std::move(rules)), limits_(limits) {
    for (const Rule& rule : rules_) {
        for (const RulePattern& pattern : rule.when) relations_.insert(pattern.relation);
    }
}

void RuleEngine::give_up(const Rule& rule, const std::string& what) const {
    throw LimitFault(fmt::format("{} on this change, the last time rule \"{}\" (/rules/{} of the vocabulary); nothing was kept", what, rule.name,
                                 &rule - rules_.data()),
                     "give that rule one more condition or test, or load the file in smaller parts");
}

bool RuleEngine::symmetric(const std::string& relation) const {
    const Relation* const known = vocabulary_.find_relation(relation);
    return known && known->symmetric;
}

void RuleEngine::note(const Claim& claim) {
    if (relations_.count(claim.relation) == 0 || !new_ids_.insert(id_of(claim)).second) return;
    const auto index = static_cast<std::uint32_t>(new_.size());
    by_end_.emplace(hash_of_end(true, claim.subject, claim.relation), index);
    if (claim.object.type == Value::Type::entity) by_end_.emplace(hash_of_end(false, claim.object.text, claim.relation), index);
    new_relations_.insert(claim.relation);
    new_.push_back(claim);
}

std::size_t RuleEngine::finish(const Snapshot& before, const std::function<void(const Record&)>& put) {
    before_ = &before;
    while (begun_ < new_.size()) {
        const Claim& claim = new_[begun_++];  // stays where it is while others are added behind it
        begin({claim, id_of(claim), false}, before);
        if (symmetric(claim.relation)) begin({claim, id_of(claim), true}, before);
    }
    for (const Record& record : made_) put(record);
    made_.clear();
    return fired_.size();
}

// Tries the claim in every condition of every rule.
void RuleEngine::begin(const Known& start, const Snapshot& before) {
    for (const Rule& rule : rules_) {
        if (!can_fire(rule, before)) continue;
        for (std::size_t i = 0; i < rule.when.size(); ++i) {
            Firing firing{&rule, std::vector<std::optional<Value>>(rule.variables.size()), std::vector<std::optional<Known>>(rule.when.size())};
            if (!match(rule.when[i], start, firing)) continue;
            firing.premise[i] = start;
            join(firing, before);
        }
    }
}

// Whether there is any claim for each condition. One that follows later begins firings of its own.
bool RuleEngine::can_fire(const Rule& rule, const Snapshot& before) const {
    return std::all_of(rule.when.begin(), rule.when.end(), [&](const RulePattern& pattern) {
        return before.relation_id(pattern.relation) || new_relations_.count(pattern.relation) != 0;
    });
}

// Fills the conditions still open, always one that has something bound. Depth is the number of conditions of the rule.
void RuleEngine::join(Firing& firing, const Snapshot& before) {
    const Rule& rule = *firing.rule;
    if (++steps_ > limits_.steps) give_up(rule, fmt::format("the rules try more than {} ways to fire", limits_.steps));
    std::optional<std::size_t> next;
    for (std::size_t i = 0; i < rule.when.size() && !next; ++i) {
        if (firing.premise[i]) continue;
        const auto is_bound = [&](const RuleTerm& term) {
            return term.is_variable ? firing.bound[term.variable] && firing.bound[term.variable]->type == Value::Type::entity
                                    : term.constant.type == Value::Type::entity;
        };
        if (is_bound(rule.when[i].subject) || is_bound(rule.when[i].object)) next = i;
    }
    if (!next) {
        const bool all = std::all_of(firing.premise.begin(), firing.premise.end(), [](const auto& one) { return one.has_value(); });
        if (all && tests_hold(rule, firing)) conclude(firing);
        return;
    }
    for (const Known& candidate : candidates(rule.when[*next], firing, before)) {
        Firing longer = firing;
        if (!match(rule.when[*next], candidate, longer)) continue;
        longer.premise[*next] = candidate;
        join(longer, before);
    }
}

bool RuleEngine::match(const RulePattern& pattern, const Known& known, Firing& firing) const {
    if (known.claim.relation != pattern.relation) return false;
    if (known.turned && known.claim.object.type != Value::Type::entity) return false;
    const Value subject = known.turned ? known.claim.object : entity_value(known.claim.subject);
    const Value object = known.turned ? entity_value(known.claim.subject) : known.claim.object;
    const auto fits = [&](const RuleTerm& term, const Value& value) {
        if (!term.is_variable) return term.constant == value;
        auto& bound = firing.bound[term.variable];
        if (bound) return *bound == value;
        bound = value;
        return true;
    };
    return fits(pattern.subject, subject) && fits(pattern.object, object);
}

std::vector<RuleEngine::Known> RuleEngine::candidates(const RulePattern& pattern, const Firing& firing, const Snapshot& before) const {
    const auto thing = [&](const RuleTerm& term) -> std::string {
        if (!term.is_variable) return term.constant.type == Value::Type::entity ? term.constant.text : std::string();
        const auto& bound = firing.bound[term.variable];
        return bound && bound->type == Value::Type::entity ? bound->text : std::string();
    };
    const std::string subject = thing(pattern.subject), object = thing(pattern.object);
    const bool by_subject = !subject.empty();
    std::vector<Known> found;
    add_candidates(by_subject ? subject : object, by_subject, pattern.relation, before, found);
    if (symmetric(pattern.relation)) {
        std::vector<Known> turned;
        add_candidates(by_subject ? subject : object, !by_subject, pattern.relation, before, turned);
        for (Known& one : turned) one.turned = true;
        found.insert(found.end(), turned.begin(), turned.end());
    }
    std::sort(found.begin(), found.end(), [](const Known& a, const Known& b) { return a.id < b.id; });
    return found;
}

void RuleEngine::add_candidates(const std::string& thing, bool as_subject, const std::string& relation, const Snapshot& before,
                                std::vector<Known>& found) const {
    const auto [first, last] = by_end_.equal_range(hash_of_end(as_subject, thing, relation));
    for (auto at = first; at != last; ++at) {
        const Claim& claim = new_[at->second];
        const bool fits = as_subject ? claim.subject == thing : claim.object.type == Value::Type::entity && claim.object.text == thing;
        if (fits && claim.relation == relation) found.push_back({claim, id_of(claim), false});
    }
    const auto entity = before.find(thing);
    const RelationId id = before.relation_id(relation);
    if (!entity || !id) return;
    const auto add = [&](const ClaimRow& row) {
        if (new_ids_.count(row.id) == 0) found.push_back({before.to_record(row), row.id, false});
    };
    if (as_subject) {
        for (const ClaimWithEvidence& one : before.claims_of(*entity, id)) add(one.claim);
    } else {
        for (const ClaimRef ref : before.claims_about(*entity)) {
            if (ref.relation != id) continue;
            if (const auto one = before.claim(ref)) add(one->claim);
        }
    }
}

bool RuleEngine::tests_hold(const Rule& rule, const Firing& firing) const {
    return std::all_of(rule.where.begin(), rule.where.end(), [&](const RuleTest& test) {
        const auto text = [&](const RuleTerm& term) -> const std::string& {
            return term.is_variable ? firing.bound[term.variable]->text : term.constant.text;
        };
        const std::string& left = text(test.left);
        const std::string& right = text(test.right);
        switch (test.kind) {
            case RuleTest::Kind::is: return left == right;
            case RuleTest::Kind::is_not: return left != right;
            case RuleTest::Kind::starts_with: return left.rfind(right, 0) == 0;
            case RuleTest::Kind::does_not_start_with: return left.rfind(right, 0) != 0;
        }
        return false;
    });
}

void RuleEngine::conclude(const Firing& firing) {
    const Rule& rule = *firing.rule;
    std::vector<const Claim*> premises;
    for (const auto& premise : firing.premise) premises.push_back(&premise->claim);
    const auto scope = common_scope(premises), time = common_time(premises);
    if (!scope || !time) return;
    const auto value = [&](const RuleTerm& term) { return term.is_variable ? *firing.bound[term.variable] : term.constant; };
    const Value subject = value(rule.then.subject);
    Claim claim{subject.text, rule.then.relation, value(rule.then.object), *scope, *time, false};
    const Relation* const relation = vocabulary_.find_relation(claim.relation);
    const auto kind = [](const std::string& key) { return split_key(key) ? split_key(key)->kind : std::string_view(); };
    const bool object_fits = claim.object.type == Value::Type::entity ? relation->takes_object(kind(claim.object.text))
                                                                      : relation->takes_value(claim.object.type);
    if (!relation->takes_subject(kind(claim.subject)) || !object_fits) return;
    Argument argument;
    for (const auto& premise : firing.premise) argument.premises.push_back(premise->id);
    std::sort(argument.premises.begin(), argument.premises.end());
    argument.premises.erase(std::unique(argument.premises.begin(), argument.premises.end()), argument.premises.end());
    argument.conclusion = id_of(claim);
    if (std::find(argument.premises.begin(), argument.premises.end(), argument.conclusion) != argument.premises.end()) return;
    argument.stance = rule.stance;
    argument.strength = rule.strength;  // unmarked: a conclusion is private while its premises are (kg/store/private_marks.h)
    argument.reason = rule.reason;
    argument.rule = rule.name;
    if (!fired_.insert(id_of(argument)).second) return;
    if (fired_.size() > limits_.firings) give_up(rule, fmt::format("the rules fire more than {} times", limits_.firings));
    if (!before_->find_claim(argument.conclusion) || !before_->claim(*before_->find_claim(argument.conclusion))) {
        if (new_ids_.count(argument.conclusion) == 0) made_.push_back(claim);
        note(claim);
    }
    made_.push_back(argument);
}

}  // namespace saggar
