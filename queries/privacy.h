// What may be shown while private records are not asked for: kg/store/private_marks.h says what is private.
//
// Cost: as there; a claim whose readings are at hand and open costs nothing more.
#pragma once

#include "kg/store/private_marks.h"
#include "kg/store/snapshot.h"

namespace saggar {

// One thread; the snapshot must outlive it.
class Privacy {
public:
    Privacy(const Snapshot& snapshot, bool with_private) : snapshot_(&snapshot), marks_(snapshot), with_private_(with_private) {}

    bool with_private() const { return with_private_; }
    bool may_show(EntityId thing) { return with_private_ || !marks_.is_hidden(thing); }
    // False only of a key that leads to something private.
    bool may_show_key(std::string_view key);
    bool may_show(const ClaimRow& claim) { return with_private_ || !marks_.is_hidden(claim.ref); }
    bool may_show(const ClaimWithEvidence& claim);
    // A claim in force; false where it is not.
    bool may_show(ClaimRef claim);
    // Of a reading whose claim is not told, its source alone is looked at.
    bool may_show(const EvidenceRow& reading);
    // A reading of a claim that may be shown: the claim need not be asked about again for each of its readings.
    bool may_show_of_shown(const EvidenceRow& reading) { return with_private_ || !marks_.is_marked(reading); }
    bool may_show(const ListingRow& list) { return with_private_ || !marks_.is_marked(list); }
    bool may_show(const ArgumentRow& argument) { return with_private_ || !marks_.is_hidden(argument); }
    // Looks at the ruling, not at its claim.
    bool may_show(const RulingRow& ruling) const { return with_private_ || !ruling.is_private; }
    // Any record with a content id, in force or not.
    bool may_tell(const ContentId& record) { return with_private_ || !marks_.is_hidden(record); }
    // The source without private ones among those that it names.
    Source shown(Source source);

private:
    const Snapshot* snapshot_;
    PrivateMarks marks_;
    bool with_private_;
};

}  // namespace saggar
