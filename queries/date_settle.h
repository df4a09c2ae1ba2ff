// Which claims can hold together: the weak ones are left out, the contradictory ones set aside, the weakest first.
//
// Only claims that contradict or bind are weighed: a weak claim that does neither changes nothing. Dates of a single point
// are compared first, without the network. Of the claims set aside, those are taken back at the end, the strongest first,
// that can hold after all with what is left. Half of dating.h; cost: a few network solutions for each contradiction.
#pragma once

#include <vector>

#include "queries/date_solver.h"
#include "queries/dating.h"

namespace saggar {

struct DateSettlement {
    DateOutcome outcome;                              // of the claims that are left; consistent
    std::vector<DatingContradiction> contradictions;  // those of the thing itself first
    std::vector<WeighedClaim> too_weak;
};

// LimitFault beyond question.most_contradictions.
DateSettlement settle_dates(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question,
                            const DateConstraints& constraints);

}  // namespace saggar
