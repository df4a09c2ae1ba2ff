// Dated claims that break the vocabulary's time orders: "no piece is older than the model of its shape".
//
// Two dated claims and the claims that tie their things together clash when the day that must come first can only have
// come after the other, slack and "about" allowed for. Single orders are compared, not chains of them; what follows from
// many at once is for dating (dating.h). Cost: one walk of each order's path from each thing that is dated.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "queries/time_rules.h"

namespace saggar {

class Profile;

struct TimeClash {
    ClaimRef dated;                // the claim from whose thing the order's path was walked
    std::vector<ClaimRef> others;  // along the path, then the other date
    std::string rule;              // the order's label
};

struct TimeClashes {
    std::vector<TimeClash> found;  // in the order of the dated claims, then of the rules
    bool complete = true;          // false: more than `most_dated` things are dated and none was compared
};
inline constexpr std::size_t most_dated = 50'000;

// All clashes, or those that name `thing`.
TimeClashes find_time_clashes(const Snapshot& snapshot, const Profile& profile, const TimeRules& rules,
                              std::optional<EntityId> thing = {});

}  // namespace saggar
