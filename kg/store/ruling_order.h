// Which of several rulings on one claim stand.
//
// A ruling overrules those that it has seen (its `looked_at` names them) and earlier ones of the same person. Rulings of
// different people that have not seen each other, as after a merge, stand side by side; where they decide differently,
// that is a quarrel for people to end. The order does not depend on the graph in which the rulings came together:
// the latest day first, then the more cautious decision, then the content id.
// Cost: quadratic in the rulings on one claim, which are few.
#pragma once

#include <vector>

#include "kg/store/rows.h"

namespace saggar {

struct RankedRuling {
    RulingRow row;
    bool is_overruled = false;
};

// Those that stand first, the latest of them leading; then those overruled, the latest first.
std::vector<RankedRuling> ranked_rulings(std::vector<RulingRow> rows);

// Whether two of those that stand decide differently.
bool rulings_differ(const std::vector<RankedRuling>& rulings);

}  // namespace saggar
