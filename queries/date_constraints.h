// Everything in the graph that bounds the time points of one thing, as limits between points.
//
// From the thing asked about, orders of the time rules are followed towards what must be earlier (it bounds the thing from
// below) and towards what must be later (it bounds it from above); never back again, since a chain of orders that turns
// round bounds nothing. Each point met brings the dates that claims give it. A claim counts here when anybody speaks for
// it; how far to trust it is weighed later, and only where it matters (dating.cpp).
// Cost: one scan of claims for each thing met.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/time/bounds.h"
#include "kg/time/network.h"
#include "queries/time_rules.h"

namespace saggar {

// Why a limit holds: claims that date a point, or the claims along the path of an order.
struct DateReason {
    std::vector<ClaimRef> claims;
    const TimeOrderRule* order = nullptr;  // null: the claims give the date themselves
};

// One point of one thing; the first is the origin, which is nobody's.
struct DatePoint {
    EntityId thing;
    std::string point;
};

// One stretch of time in which a period rule allows the point.
struct DateStint {
    ClaimRef claim;
    std::int64_t first = time::no_earliest;
    std::int64_t last = time::no_latest;
};

// The point lies in one of the stints, if all claims of the period are accepted.
struct DatePeriod {
    time::TimePoint point = 0;
    std::vector<ClaimRef> via;
    std::vector<DateStint> stints;
    const TimePeriodRule* rule = nullptr;
    std::vector<ClaimRef> claims() const;  // via and stints, sorted, no duplicates
};

struct DateConstraints {
    std::vector<DatePoint> points;        // by time::TimePoint
    std::vector<time::TimeLimit> limits;  // labels are indices into `reasons`, or time::always
    std::vector<DateReason> reasons;
    std::vector<DatePeriod> periods;               // of the thing asked about only
    std::map<std::string, time::TimePoint> asked;  // points of the thing asked about, by name
    std::size_t dated_claims = 0;                  // claims that gave a date
    bool complete = true;                          // false: more than `most_points` are in reach
};

struct DateReach {
    time::Conventions conventions;  // `about` is the profile's; a source's own goes before it
    bool with_private = true;
    std::size_t most_points = 20'000;
};

// The rules must outlive the answer. Empty `asked` where the thing's kind has no points.
DateConstraints date_constraints(const Snapshot& snapshot, const TimeRules& rules, EntityId thing,
                                 const DateReach& reach);

// What "about" means to a claim: the widest tolerance among the sources that speak for it, else `usual`.
int about_years_of(const Snapshot& snapshot, const std::vector<EvidenceRow>& evidence, int usual);

}  // namespace saggar
