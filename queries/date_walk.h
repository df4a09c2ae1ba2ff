// Walking the paths of time rules over a snapshot, with the claims of each thing read once.
//
// A path may change the name of a thing it passes where an accepted identity says that two names are one; the identity
// is then among the claims of the walk.
#pragma once

#include <unordered_map>
#include <utility>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/aliases.h"
#include "queries/privacy.h"
#include "queries/time_rules.h"

namespace saggar {

// Where a path leads, and by which claims (in the order walked).
struct DateWalk {
    EntityId to;
    std::vector<ClaimRef> claims;
};

// One thread; the snapshot must outlive it.
class DateWalker {
public:
    DateWalker(const Snapshot& snapshot, bool with_private)
        : snapshot_(&snapshot), with_private_(with_private), privacy_(snapshot, with_private), aliases_(snapshot) {}

    // The claims of a thing that anybody speaks for, private ones only where asked for.
    const std::vector<ClaimWithEvidence>& claims_of(EntityId thing);
    // All ends of the path from a thing, in the order of the store; an empty path leads to the thing itself. A path that
    // meets a thing twice is left out.
    std::vector<DateWalk> walk(EntityId from, const TimePath& path);
    // What the thing is called besides, sorted by key; names told by private identities only where those are asked for.
    const std::vector<Alias>& other_names(EntityId thing);
    // All identities, private ones too: as the weighing uses them.
    Aliases& aliases() { return aliases_; }
    // The walk, and the walk on to every other name of its end.
    std::vector<DateWalk> under_all_names(const DateWalk& walk);
    // The premises of each argument for the claim, where nothing but arguments of the vocabulary's rules speaks for it;
    // otherwise nothing.
    std::vector<std::vector<ClaimRef>> drawn_by_rules(ClaimRef claim) const;
    // The same path the other way round.
    static TimePath reversed(const TimePath& path);

private:
    bool is_spoken_for(const ClaimWithEvidence& claim) const;
    void step(const DateWalk& walk, const TimePathStep& step, std::vector<DateWalk>& out);

    const Snapshot* snapshot_;
    bool with_private_;
    mutable Privacy privacy_;
    Aliases aliases_;
    std::unordered_map<EntityId, std::vector<ClaimWithEvidence>> known_;
    std::unordered_map<EntityId, std::vector<Alias>> names_;
};

}  // namespace saggar
