// The argument about a claim: the claim on top, what speaks for it on the left, what speaks against it on the right.
//
// Sources stand with the reliability their reading counts with; a copy points to its root; an inference is a box
// between its premises and its conclusion; a list that leaves the thing out, and a rival that cannot hold beside the
// claim, speak against it. The picture shows the Weight it is given and works nothing out. Cost: the claims drawn.
#pragma once

#include "kg/weigh/weight.h"
#include "viz/draft.h"

namespace saggar::viz {

struct ArgumentOptions {
    bool whole = false;  // the evidence of premises and rivals too: everything behind the claim
};

Diagram argument(const Snapshot& snapshot, const Weight& weight, const ArgumentOptions& options, DraftOptions draft);

// Rival or otherwise conflicting claims side by side, each with its evidence; rulings in the description.
// `views`: the weights of the claims, in the order they are to stand.
Diagram dispute(const Snapshot& snapshot, const std::vector<Weight>& views, DraftOptions draft);

// "argued for 0.52, argued against 0.18, contradictory 0.21, open 0.09"
std::string masses_in_words(const Masses& masses);

}  // namespace saggar::viz
