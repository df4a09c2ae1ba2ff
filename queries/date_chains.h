// Every way in which claims bound a point: chains of limits from a date to the point, with the claims each one rests on.
//
// The solver keeps the tightest chain only; weighing a year needs all that exclude it. A chain is dropped where another one
// bounds as tightly with some of the same claims. Orders lead in one direction, so chains are paths in a graph without
// cycles but for rings of claims that contradict (a replaced b, b replaced a); no chain passes a point twice.
#pragma once

#include <vector>

#include "queries/date_constraints.h"

namespace saggar {

struct DateChain {
    std::int64_t bound = 0;        // the point lies at or after it (earliest), at or before it (latest)
    std::vector<ClaimRef> claims;  // sorted, no duplicates
    bool operator==(const DateChain&) const = default;
};

struct DateChains {
    std::vector<DateChain> chains;  // tightest first, then fewest claims
    bool complete = true;           // false: some were left out, the loosest first
};

// Chains that bound the point from below (earliest) or above, at most `most` of them. Stints count by their hull.
DateChains chains_of(const DateConstraints& constraints, time::TimePoint point, bool earliest, std::size_t most);

}  // namespace saggar
