// When was it made, introduced, dropped? The earliest and latest day of each time point of a thing, and on whose word.
//
// All limits in reach (date_constraints.h) form a simple temporal problem. Its solution gives the range of each point; the
// chain of limits behind either end is told step by step with its claims. Where the claims cannot all hold, the
// smallest set that contradicts is shown with the weight of each claim, and the weakest of them is set aside, until the rest
// can hold (and a claim set aside is taken back where it can hold with the rest): the answer then says on what it rests. Claims supported less than `least_support` do not bind; where one would
// have, it is named. Only claims that matter are weighed, so the answer is fast even where thousands are in reach.
#pragma once

#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/time/bounds.h"
#include "kg/weigh/weigher.h"
#include "queries/time_rules.h"

namespace saggar {

struct DatingQuestion {
    EntityId thing;
    time::Conventions conventions;  // seasons; `about` is set from the profile
    double least_support = .25;     // convention; claims supported less do not bind
    bool with_private = true;
    std::size_t most_points = 20'000;
    std::size_t most_contradictions = 2'000;  // beyond them LimitFault
};

// One step towards a bound: a claim's date, or an order that carries a bound from one point to another.
struct DatingStep {
    EntityId thing;  // the point reached
    std::string point;
    time::Day day;                 // its bound after this step
    std::vector<ClaimRef> claims;  // the dating claim, or the claims along the order's path; empty: points of one thing
    std::string rule;              // the order's or period's label; empty: a dating claim
    int slack_months = 0;
};

struct DatingBound {
    bool is_earliest = false;
    time::Day day;
    bool binds = false;             // the tightest on its side
    std::vector<DatingStep> steps;  // from the dated claim to the point
    std::vector<ClaimRef> because;  // all claims of the steps, each once, in their order
};

struct DatedPoint {
    std::string point;
    std::string label;  // "was introduced"
    time::Day earliest = time::before_all;
    time::Day latest = time::after_all;
    std::vector<DatingBound> bounds;  // earliest ones first, each side tightest first; at most `most_bounds` a side
};
inline constexpr std::size_t most_bounds = 12;

struct WeighedClaim {
    ClaimRef claim;
    double support = 0;
};

struct DatingContradiction {
    std::vector<WeighedClaim> claims;  // cannot all hold; without any one of them the others can
    ClaimRef set_aside;                // the weakest of them that was
};

// A stint in which the point cannot lie ("while she worked there, the second time"), and why.
struct DatingStruck {
    ClaimRef claim;
    std::vector<ClaimRef> because;
};

struct DatingAnswer {
    EntityId thing;
    std::vector<DatedPoint> points;  // in the order of the vocabulary
    time::Bounds run;                // of the run the vocabulary names for the kind; unknown where it names none
    std::string run_start, run_end;  // the points it lies between; equal: the thing has one moment
    std::vector<DatingContradiction> contradictions;
    std::vector<WeighedClaim> too_weak;  // would have bound or contradicted, but are supported less than asked
    std::vector<DatingStruck> struck;
    std::size_t limits = 0;  // in reach
    std::size_t dated_claims = 0;
    bool complete = true;  // false: not everything in reach was taken
    double least_support = 0;
};

// UsageFault where things of this kind have no time points, or where the vocabulary's time rules are unsound.
// The weigher must be of the same snapshot.
DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question);
DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules,
                        const DatingQuestion& question);

}  // namespace saggar
