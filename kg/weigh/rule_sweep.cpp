#include "kg/weigh/rule_sweep.h"

#include <algorithm>
#include <set>

#include "kg/weigh/rule_engine.h"

namespace saggar {

namespace {

// What the rules may set off grows with the graph, as it would have over many loads.
RuleLimits limits_for(const Snapshot& graph) {
    RuleLimits limits;
    limits.firings = std::max<std::size_t>(limits.firings, 4 * graph.claim_bound());
    limits.steps = std::max<std::size_t>(limits.steps, 100 * graph.claim_bound());
    return limits;
}

// Whether the argument was in force once and a person withdrew it; what an earlier sweep withdrew may come back.
bool taken_back_by_hand(const Snapshot& graph, const ContentId& argument) {
    const Spans spans = graph.spans_of(argument);
    if (spans.empty() || in_force(spans, graph.entry())) return false;
    const std::vector<Entry> closing = graph.history(spans.back().until, spans.back().until);
    return closing.empty() || closing.front().verb != "vocabulary";
}

bool is_of_rule(const Argument& argument, const std::vector<Rule>& rules) {
    return std::any_of(rules.begin(), rules.end(), [&](const Rule& rule) {
        return rule.name == argument.rule && rule.strength == argument.strength && rule.reason == argument.reason &&
               rule.stance == argument.stance;
    });
}

}  // namespace

RuleSweep sweep_rules(const Snapshot& before, const Vocabulary& vocabulary, const std::vector<Rule>& rules,
                      const std::string& reason, Change& change) {
    RuleSweep done;
    std::set<ContentId> drawn, standing;
    before.each_argument([&](const ArgumentRow& row) {
        if (!row.rule.empty()) standing.insert(row.id);
    });
    RuleEngine engine(vocabulary, rules, limits_for(before));
    if (engine.any()) {
        before.each_claim([&](const ClaimWithEvidence& one) { engine.note(before.to_record(one.claim)); });
    }
    engine.finish(before, [&](const Record& record) {
        if (const auto* const argument = std::get_if<Argument>(&record)) {
            const ContentId id = id_of(*argument);
            drawn.insert(id);
            if (standing.count(id) != 0 || taken_back_by_hand(before, id)) return;
            done.drawn += change.put(*argument) == Put::added;
        } else {
            change.put(record);
        }
    });
    std::vector<ContentId> out_of_use;
    const bool all_drawn = std::includes(drawn.begin(), drawn.end(), standing.begin(), standing.end());
    if (!all_drawn) {
        before.each_argument([&](const ArgumentRow& row) {
            if (row.rule.empty() || drawn.count(row.id) != 0) return;
            // One that waits for a withdrawn premise is left alone while its rule holds.
            const Argument argument = before.to_record(row);
            const bool whole = std::all_of(argument.premises.begin(), argument.premises.end(),
                                           [&](const ContentId& premise) { return before.is_in_force(premise); });
            if (whole || !is_of_rule(argument, rules)) out_of_use.push_back(row.id);
        });
    }
    std::sort(out_of_use.begin(), out_of_use.end());
    for (const ContentId& id : out_of_use) change.put(Withdrawal{id, reason});
    done.withdrawn = out_of_use.size();
    return done;
}

}  // namespace saggar
