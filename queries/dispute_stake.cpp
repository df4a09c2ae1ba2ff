#include "queries/dispute_stake.h"

#include <unordered_set>

#include "kg/model/vocabulary.h"

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
        for (const ClaimRef leading : snapshot_.claims_about(claim.subject))
            if (!full()) seen_.insert(leading);
    }

    void follow_arguments(std::vector<ClaimRef> from) {
        if (!snapshot_.any_arguments()) return;
        for (std::size_t i = 0; i < from.size() && !full(); ++i) {  // grows as it goes
            for (const ArgumentRow& row : snapshot_.arguments_from(from[i]))
                if (seen_.insert(row.conclusion).second) from.push_back(row.conclusion);
        }
    }

    const Snapshot& snapshot_;
    std::unordered_set<ClaimRef> seen_;
};

}  // namespace

std::size_t resting_on(const Snapshot& snapshot, const std::vector<ClaimRef>& claims) { return Stake(snapshot).of(claims); }

}  // namespace saggar
