#include "queries/privacy.h"

#include <algorithm>

namespace saggar {

bool Privacy::may_show(EntityId thing) {
    if (with_private_) return true;
    const auto known = known_.find(thing);
    if (known != known_.end()) return known->second;
    const auto entity = snapshot_->entity(thing);
    const auto source = snapshot_->source(thing);
    return known_[thing] = !(entity && entity->is_private) && !(source && source->is_private);
}

bool Privacy::may_show(const ClaimRow& claim) {
    if (with_private_) return true;
    if (claim.is_private || !may_show(claim.ref.subject)) return false;
    if (claim.has_entity_object() && !may_show(claim.object)) return false;
    if (claim.scope.empty()) return true;
    const auto scope = snapshot_->find(claim.scope);
    return !scope || may_show(*scope);
}

bool Privacy::may_show(const ClaimWithEvidence& claim) {
    if (!may_show(claim.claim)) return false;
    return with_private_ || claim.evidence.empty() ||
           std::any_of(claim.evidence.begin(), claim.evidence.end(),
                       [this](const EvidenceRow& reading) { return may_show(reading); });
}

bool Privacy::may_show(ClaimRef claim) {
    const auto row = snapshot_->claim(claim);
    return row && may_show(*row);
}

bool Privacy::may_show(const ListingRow& list) {
    return with_private_ || (!list.is_private && may_show(list.source) && may_show(list.subject));
}

bool Privacy::may_show(const ArgumentRow& argument) {
    if (with_private_) return true;
    return !argument.is_private && std::all_of(argument.premises.begin(), argument.premises.end(),
                                               [this](ClaimRef premise) { return may_show(premise); });
}

}  // namespace saggar
