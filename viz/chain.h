// Chains from one thing to others, as a trace finds them: one picture of their union.
//
// Things on several chains stand once; a line carries the claim's weight and citations; the chains are listed by rank
// in the description. Cost: the claims of the chains.
#pragma once

#include <string>
#include <vector>

#include "viz/draft.h"

namespace saggar::viz {

struct ChainPicture {
    EntityId from;
    std::vector<EntityId> to;                   // ends, drawn with a heavier outline
    std::vector<std::vector<ClaimRef>> chains;  // best first, the claims of a chain in order
    std::string title;                          // the question
    std::string description;                    // the answer in words, with its weight
};

Diagram chain(const Snapshot& snapshot, const ChainPicture& picture, DraftOptions draft);

}  // namespace saggar::viz
