// The claims of one subject under one relation, read once for many questions: rivals and lists ask for them again and again.
//
// Sorted by content, so that nothing depends on the order of entry. Bounded: all are let go when they have become many.
#pragma once

#include <map>
#include <unordered_map>
#include <utility>
#include <vector>

#include "kg/store/ids.h"
#include "kg/store/rows.h"

namespace saggar {

class Snapshot;

// Evidence by source key, then content id.
void sort_evidence(const Snapshot& snapshot, ClaimWithEvidence& claim);

// One thread; keeps a reference.
class ClaimBuckets {
public:
    explicit ClaimBuckets(const Snapshot& snapshot) : snapshot_(snapshot) {}

    // By content id; the evidence of each sorted. Good until `trim`.
    const std::vector<ClaimWithEvidence>& of(EntityId subject, RelationId relation);
    // The claim, where its bucket has been read; null where it has not, or where the claim is not in force.
    const ClaimWithEvidence* find(ClaimRef claim) const;
    // Lets go of everything where it has become much. Between two questions.
    void trim();

private:
    struct Bucket {
        std::vector<ClaimWithEvidence> claims;
        std::unordered_map<ClaimRef, std::size_t> place;
    };
    const Snapshot& snapshot_;
    std::map<std::pair<EntityId, RelationId>, Bucket> buckets_;
    std::size_t held_ = 0;  // claims and buckets
};

}  // namespace saggar
