// Which answers moved between two entries of the history, by how much and why.
//
// Only claims that the changes can have reached (change_reach.h) are weighed at both entries. Why a claim moved is told by
// its lineage: the records, sources and rulings that hold at one entry and not at the other. Cost: two weighings for each
// claim reached.
#pragma once

#include <optional>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/masses.h"

namespace saggar {

// Something of a claim's lineage that is not the same at both entries.
struct ChangeCause {
    enum class What : std::uint8_t {
        added,       // a record put since
        withdrawn,   // a record taken back since
        joined,      // there before, but it did not bear on the claim
        left,        // still there, but it bears on the claim no longer
        described,   // a source described anew
        document,    // the vocabulary or the profile
    };
    What what = What::added;
    ContentId record;          // of added, withdrawn, joined, left
    EntityId source;           // of described
    std::uint64_t entry = 0;   // in which it happened; 0 for joined, left, described, document
    std::string reason;        // of a withdrawal
};

struct ChangedClaim {
    ClaimRef claim;
    std::optional<Masses> before;  // nothing: not on record at that entry
    std::optional<Masses> after;
    double support_before = 0;     // 0 where it was not on record
    double support_after = 0;
    std::vector<ChangeCause> causes;  // withdrawn, added, then the others; by entry and record
    double moved() const { return support_after - support_before; }
};

struct ChangesAnswer {
    std::uint64_t from = 0;
    std::uint64_t to = 0;
    std::vector<ChangedClaim> claims;  // those that moved most first, then by content id
    std::size_t reached = 0;           // claims weighed at both entries
};

// Claims whose support moved by more than `least` (and more than sampling can, where a figure is sampled). Both snapshots
// of one store, `before` the earlier.
ChangesAnswer changes(const Snapshot& before, const Snapshot& after, double least = .01);

}  // namespace saggar
