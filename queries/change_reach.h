// Which claims' weights may have moved between two entries of one graph.
//
// From every record that was put or withdrawn between them, the lineages are followed backwards: from a claim to its
// rivals, to what is argued from it, to readings it takes back, to the same claim under another name; from a source to
// all that is read in it, in its copies and in its family. Everything outside has the same lineage at both entries, and
// so the same weight. Cost: what is reached, and one pass over the sources where one of them changed.
#pragma once

#include <vector>

#include "kg/store/snapshot.h"

namespace saggar {

struct ChangeReach {
    std::vector<ClaimRef> claims;    // in force at either entry; sorted
    std::vector<EntityId> sources;   // described anew; sorted
    bool documents = false;          // the vocabulary or the profile changed: all claims are reached
};

// Both of one store; `before` the earlier.
ChangeReach change_reach(const Snapshot& before, const Snapshot& after);

}  // namespace saggar
