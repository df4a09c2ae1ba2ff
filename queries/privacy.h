// What may be shown while private records are not asked for.
//
// A record is private when it is marked so or names a private thing; a claim known from private readings alone is
// private too. Cost: one read for each thing, remembered.
#pragma once

#include <unordered_map>

#include "kg/store/snapshot.h"

namespace saggar {

// One thread; the snapshot must outlive it.
class Privacy {
public:
    Privacy(const Snapshot& snapshot, bool with_private) : snapshot_(&snapshot), with_private_(with_private) {}

    bool with_private() const { return with_private_; }
    bool may_show(EntityId thing);
    bool may_show(const ClaimRow& claim);
    bool may_show(const ClaimWithEvidence& claim);
    // A claim in force; false where it is not.
    bool may_show(ClaimRef claim);
    // These look at the record and its source, not at the claim it speaks of.
    bool may_show(const EvidenceRow& reading) { return with_private_ || (!reading.is_private && may_show(reading.source)); }
    bool may_show(const ListingRow& list);
    // Looks at the premises too.
    bool may_show(const ArgumentRow& argument);
    bool may_show(const RulingRow& ruling) const { return with_private_ || !ruling.is_private; }

private:
    const Snapshot* snapshot_;
    bool with_private_;
    std::unordered_map<EntityId, bool> known_;
};

}  // namespace saggar
