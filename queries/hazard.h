// Glazes and treatments that are flagged for what they may hold (lead, cadmium, uranium).
#pragma once

#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"

namespace saggar {

// Whether anybody has flagged it; one seek, none where things of its kind cannot be flagged.
inline bool is_flagged(const Snapshot& snapshot, EntityId thing) {
    const RelationId hazard = snapshot.relation_id("hazard");
    if (!hazard) return false;
    const Relation* relation = snapshot.vocabulary().find_relation("hazard");
    return (!relation || relation->takes_subject(snapshot.kind_of(thing))) && !snapshot.claims_of(thing, hazard).empty();
}

}  // namespace saggar
