#include "queries/dispute_stake.h"

#include <algorithm>
#include <optional>
#include <set>
#include <unordered_set>

#include "kg/model/vocabulary.h"
#include "queries/time_rules.h"

namespace saggar {
namespace {

class Stake {
public:
    explicit Stake(const Snapshot& snapshot) : snapshot_(snapshot) {}

    std::size_t of(const std::vector<ClaimRef>& disputed) {
        for (const ClaimRef claim : disputed) seen_.insert(claim);
        for (const ClaimRef claim : disputed) add_leading_to(claim);
        follow_arguments(disputed);
        return seen_.size() - disputed.size();
    }

private:
    bool full() const { return seen_.size() >= most_counted; }

    void add_all_about(EntityId thing) {
        for (const Link& link : snapshot_.links(thing))
            if (!full()) seen_.insert(link.claim);
    }

    void add_leading_to(ClaimRef claim) {
        const Relation* relation = snapshot_.vocabulary().find_relation(snapshot_.relation_name(claim.relation));
        if (relation && relation->identity) {
            add_all_about(claim.subject);
            if (const auto row = snapshot_.claim(claim); row && row->claim.has_entity_object()) add_all_about(row->claim.object);
            return;
        }
        const auto row = snapshot_.claim(claim);
        if (!row) return;
        const bool dates = relation && row->claim.object_type == Value::Type::date;
        if (!row->claim.has_entity_object() && !dates) return;  // no chain goes on from a text or a number
        for (const ClaimRef leading : snapshot_.claims_about(claim.subject))
            if (!full() && (!dates || ties_dates(leading.relation))) seen_.insert(leading);
    }

    // Whether the vocabulary's time orders go by this relation, so that a date at one end bounds one at the other.
    bool ties_dates(RelationId relation) {
        if (!tying_) {
            tying_.emplace();
            for (const TimeOrderRule& order : TimeRules::of(snapshot_.vocabulary()).orders)
                for (const TimePathStep& step : order.via) tying_->insert(snapshot_.relation_id(step.relation));
        }
        return tying_->count(relation) != 0;
    }

    void follow_arguments(std::vector<ClaimRef> from) {
        if (!snapshot_.any_arguments()) return;
        for (std::size_t i = 0; i < from.size() && !full(); ++i) {  // grows as it goes
            for (const ArgumentRow& row : snapshot_.arguments_from(from[i]))
                if (speaks(row) && seen_.insert(row.conclusion).second) from.push_back(row.conclusion);
        }
    }

    // An argument with a withdrawn premise or conclusion is silent.
    bool speaks(const ArgumentRow& row) const {
        const auto in_force = [this](ClaimRef claim) { return snapshot_.claim(claim).has_value(); };
        return in_force(row.conclusion) && std::all_of(row.premises.begin(), row.premises.end(), in_force);
    }

    const Snapshot& snapshot_;
    std::optional<std::set<RelationId>> tying_;
    std::unordered_set<ClaimRef> seen_;
};

}  // namespace

std::size_t resting_on(const Snapshot& snapshot, const std::vector<ClaimRef>& claims) { return Stake(snapshot).of(claims); }

}  // namespace saggar
