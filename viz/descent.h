// Descent: which shape or item was replaced by which, and what was borrowed from where.
//
// Follows the relations named (replaced-by and borrowed-from by default) in both directions from the things given, as
// far as they go, round circles too. Older things stand above what replaced them. Cost: the claims of every thing
// drawn.
#pragma once

#include <string>
#include <vector>

#include "viz/draft.h"

namespace saggar::viz {

struct DescentOptions {
    std::vector<std::string> relations = {"replaced-by", "borrowed-from"};
};

// `from`: where to start; empty: every thing that has such a claim.
Diagram descent(const Snapshot& snapshot, const std::vector<EntityId>& from, const DescentOptions& options,
                DraftOptions draft);

}  // namespace saggar::viz
