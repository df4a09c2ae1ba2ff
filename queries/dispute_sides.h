// On which sides the records of one claim speak, by their words alone.
//
// A reading with a hedge under .5 ("probably not") speaks for the other side; silence speaks against. Arguments count for
// their side. A list of everything that leaves the claim out speaks against it. The same claim the other way round (of a
// symmetric relation) or under another name of one thing (accepted identities) is the same claim.
#pragma once

#include <map>
#include <set>
#include <unordered_map>
#include <utility>
#include <vector>

#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/aliases.h"

namespace saggar {

class Profile;

using ClaimBucket = std::vector<ClaimWithEvidence>;  // claims of one subject, or of its names, and one relation
using BucketKey = std::pair<EntityId, RelationId>;

inline BucketKey bucket_key(const ClaimWithEvidence& claim) { return {claim.claim.ref.subject, claim.claim.ref.relation}; }

struct SpokenSides {
    bool in_favour = false;
    bool against = false;
    bool left_out = false;  // by a list
};

// One thread; keeps references.
class SideReader {
public:
    SideReader(const Snapshot& snapshot, const Profile& profile, Aliases& aliases);

    // All lists of the graph; all arguments, or those for some claims.
    void read_lists();
    void read_arguments();
    void read_arguments(const ClaimBucket& bucket);

    const std::vector<ListingRow>* lists(const BucketKey& key) const;
    bool is_aliased(EntityId thing) const { return aliased_.count(thing) != 0; }
    // False: nothing can speak on both sides, so the claim need not be looked at.
    bool may_have_two(const ClaimWithEvidence& claim, const Relation* relation) const;
    SpokenSides of(const ClaimBucket& bucket, const ClaimWithEvidence& claim, const Relation* relation) const;

private:
    void find_aliased();
    bool has_other_forms(const ClaimRow& row, const Relation* relation) const;
    bool speaks_against(const EvidenceRow& row) const;
    bool is_supported_otherwise(const ClaimRow& row, const Relation* relation) const;
    bool is_supported(const Claim& claim) const;
    bool is_left_out(const ClaimBucket& bucket, const ClaimWithEvidence& claim) const;

    const Snapshot& snapshot_;
    const Profile& profile_;
    Aliases& aliases_;
    std::set<EntityId> aliased_;  // things that an accepted identity may concern: at most two for each ruling
    std::map<BucketKey, std::vector<ListingRow>> lists_;
    std::unordered_map<ClaimRef, std::vector<Stance>> arguments_;
};

}  // namespace saggar
