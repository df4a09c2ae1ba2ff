// The two sides of one claim by itself: how surely the evidence argues for it, against it, and for both at once.
//
// Nothing is conditioned on: contradictions of other claims of the lineage do not count here, so that a claim drawn from
// disputed premises is not taken for disputed itself. Cost: that of the lineage, worked out for three events.
#pragma once

#include "kg/store/ids.h"

namespace saggar {

class Gatherer;
class Profile;

struct Sides {
    double in_favour = 0;  // P(supported)
    double against = 0;    // P(refuted)
    double both = 0;       // P(supported and refuted)
    bool exact = true;     // false: sampled
};

// A claim that is not in force has none.
Sides sides_of(Gatherer& gatherer, const Profile& profile, ClaimRef claim);

}  // namespace saggar
