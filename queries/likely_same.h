// Things that may be one under two names: proposed, never merged.
//
// Signs: a name of one is, folded and without "&" or "and", a name of the other; both carry the same number
// (a text with a figure in it) under one relation; they share
// most of their neighbours, and these are not everybody's. Only things of one kind are compared, and pairs that somebody
// has already said something about (an identity claim with a ruling) are left out. The scores are conventions; only their order means something.
// Cost: one pass over entities and claims; a neighbour that more than `most_sharing` things share tells nothing.
#pragma once

#include <string>
#include <vector>

#include "kg/store/snapshot.h"

namespace saggar {

struct LikelySame {
    EntityId one;  // the smaller key
    EntityId other;
    double score = 0;                       // 0..1
    std::vector<std::string> names;         // folded names they share
    std::vector<std::string> values;        // "numbered H317"
    std::size_t neighbours = 0;             // shared
    std::size_t all_neighbours = 0;         // of both together
    std::vector<std::string> differ;        // at-most-one relations in which they differ
};

struct LikelySameQuestion {
    std::string kind;          // only things of this kind; empty: all
    std::size_t most = 20;
    bool with_private = true;
};
inline constexpr std::size_t most_sharing = 20;

// The likeliest first, then by keys.
std::vector<LikelySame> likely_same(const Snapshot& snapshot, const LikelySameQuestion& question = {});

}  // namespace saggar
