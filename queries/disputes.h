// What is in dispute: claims in conflict, both sides with their evidence, and what would settle it.
//
// Conflicts are found by the records (dispute_search.h); only the claims found there are weighed. A conflict in which no
// view has any support, or nothing that contradicts it, is no dispute, unless people have ruled differently on it. Disputes are ordered by what rests on them times
// how contradictory they are. Rulings stand beside the weights and change nothing in them.
// Cost: one pass over the claims, the masses of those in conflict, the full weights of the disputes shown.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/weigher.h"
#include "queries/dispute_search.h"
#include "queries/missing_evidence.h"
#include "queries/rulings.h"

namespace saggar {

struct DisputesQuestion {
    std::optional<EntityId> thing;    // only disputes that concern it
    std::optional<DisputeKind> kind;  // only of this kind
    double least = 0;                 // only where some view's contradictory mass is this or more
    bool unsettled = false;           // only those without a ruling that stands
    bool with_private = true;         // false: private claims are left out
    std::size_t most = 20;            // how many are shown
};

struct DisputeView {
    Weight weight;  // with claim, masses, readings, grounds
    std::vector<RulingStanding> rulings;
};

// Dates of other things that cannot hold beside a view's, and how surely the evidence argues for all of them at once.
struct DisputeClash {
    TimeClash clash;
    double joint = 0;
};

struct Dispute {
    std::set<DisputeKind> kinds;
    std::vector<DisputeView> views;  // the most supported first, then by content id
    std::vector<DisputeClash> clashes;
    double both = 0;                 // the largest contradictory mass of a view or chance of a clash
    std::size_t resting = 0;         // claims that rest on it
    bool settled = false;            // a ruling that accepts or rejects a view stands and is not stale
    std::size_t hidden = 0;          // private views left out
    std::optional<MissingEvidence> missing;
};

struct DisputesAnswer {
    std::vector<Dispute> disputes;
    std::size_t found = 0;       // before the limit
    bool times_compared = true;  // false: too many things are dated to compare their times with each other's
};

// The weigher must be of the same snapshot. StoreFault.
DisputesAnswer disputes(const Snapshot& snapshot, Weigher& weigher, const DisputesQuestion& question);

}  // namespace saggar
