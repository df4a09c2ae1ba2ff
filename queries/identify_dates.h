// When a piece can have been made, given what it is an example of or what is seen on it.
//
// By the vocabulary's time orders between the making of a piece and the points of other things ("no piece is older than the
// model of its shape"), with their slack. Each order is taken by itself, with the widest of what its dated claims allow:
// what is excluded here is excluded however the dates are settled, and a finer answer may exclude more (dating.h).
// Dated claims supported less than `least_support` bind nothing, nor do walks over a claim supported less than the profile's "supported". Cost: one walk of each order's path.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "kg/time/span.h"
#include "queries/cell.h"
#include "queries/date_walk.h"
#include "queries/privacy.h"
#include "queries/time_rules.h"

namespace saggar {

class Weigher;

struct MadeWindow {
    time::Day earliest = time::before_all;
    time::Day latest = time::after_all;
    std::string earliest_rule, latest_rule;  // labels of the orders
    std::vector<ClaimRef> earliest_claims, latest_claims;
    bool bounded() const { return earliest != time::before_all || latest != time::after_all; }
};

// One thread; keeps references.
class MadeWindows {
public:
    MadeWindows(const Snapshot& snapshot, Weigher& weigher, DateWalker& walker, CellReader& cells, const TimeRules& rules,
                double least_support)
        : snapshot_(snapshot), weigher_(weigher), walker_(walker), cells_(cells), rules_(rules), least_support_(least_support) {}

    // Of a piece that stands to `thing` in the relation.
    MadeWindow of(EntityId thing, const std::string& relation);

private:
    struct Point {
        time::Day earliest = time::before_all, latest = time::after_all;
        std::vector<ClaimRef> earliest_claims, latest_claims;
    };
    const Point& point(EntityId thing, const std::string& name);
    // The ends of the path to which every claim on the way is supported; several orders walk the same path.
    const std::vector<DateWalk>& ends(EntityId thing, const TimePath& path);

    const Snapshot& snapshot_;
    Weigher& weigher_;
    DateWalker& walker_;
    CellReader& cells_;
    const TimeRules& rules_;
    double least_support_;
    std::map<std::pair<EntityId, std::string>, Point> points_;
    std::map<std::pair<EntityId, std::string>, std::vector<DateWalk>> ends_;  // by path
};

}  // namespace saggar
