// Fires the rules of a vocabulary on claims as they arrive: only what the new claims touch, until nothing new follows.
//
// Each firing is an argument record with its premises; its conclusion is a claim like any other. When a premise is
// withdrawn nothing has to be cleaned up: the argument simply has no support. Semi-naive evaluation: a firing must use
// at least one new claim (Bancilhon 1986). The conclusion takes over the scope and time of its premises: different scopes
// do not combine; of several times the one inside all the others is taken, else the rule does not fire.
//
//   RuleEngine engine(vocabulary, rules);
//   for each new claim: engine.note(claim);
//   engine.finish(snapshot, put);                 // before the change is committed
//
// Cost: for each new claim, the matches of the rules it can begin; nothing where no rule names its relation, or where the
// graph has no claim at all for another condition of the rule. Memory: about 350 bytes a noted claim.
#pragma once

#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <set>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "kg/model/record.h"
#include "kg/weigh/rules.h"

namespace saggar {

class Snapshot;
class Vocabulary;

// How much one change may set off.
struct RuleLimits {
    std::size_t firings = 1'000'000;
    std::size_t steps = 50'000'000;  // conditions filled, also of what comes to nothing
};

// One thread. The vocabulary must outlive it.
class RuleEngine {
public:
    RuleEngine(const Vocabulary& vocabulary, std::vector<Rule> rules, RuleLimits limits = {});

    // False: there are no rules, so that nothing need be noted.
    bool any() const { return !rules_.empty(); }
    // A claim that is new in this change. Claims of relations that no rule names are not kept.
    void note(const Claim& claim);

    // Hands every conclusion (Claim, where it is new) and argument to `put`, conclusions first. `before` is the graph without
    // this change. LimitFault, naming the rule, past the limits. Returns the number of firings.
    std::size_t finish(const Snapshot& before, const std::function<void(const Record&)>& put);

private:
    struct Known {
        Claim claim;
        ContentId id;
        bool turned = false;  // a symmetric claim read backwards
    };
    struct Firing;

    [[noreturn]] void give_up(const Rule& rule, const std::string& what) const;
    void begin(const Known& start, const Snapshot& before);
    bool can_fire(const Rule& rule, const Snapshot& before) const;
    void join(Firing& firing, const Snapshot& before);
    bool match(const RulePattern& pattern, const Known& claim, Firing& firing) const;
    bool tests_hold(const Rule& rule, const Firing& firing) const;
    void conclude(const Firing& firing);
    std::vector<Known> candidates(const RulePattern& pattern, const Firing& firing, const Snapshot& before) const;
    void add_candidates(const std::string& thing, bool as_subject, const std::string& relation, const Snapshot& before,
                        std::vector<Known>& found) const;
    bool symmetric(const std::string& relation) const;

    const Vocabulary& vocabulary_;
    std::vector<Rule> rules_;
    RuleLimits limits_;
    std::size_t steps_ = 0;
    std::set<std::string> relations_;  // that some condition names
    std::deque<Claim> new_;  // those from `begun_` on have not begun a firing yet
    std::size_t begun_ = 0;
    std::unordered_multimap<std::size_t, std::uint32_t> by_end_;  // hash of the end, thing and relation -> into new_
    std::unordered_set<ContentId> new_ids_;
    std::set<std::string> new_relations_;
    std::set<ContentId> fired_;
    std::vector<Record> made_;
    const Snapshot* before_ = nullptr;
};

}  // namespace saggar
