// The minimal sets of evidence that would each suffice, best first; and how many independent roots there are.
//
// A ground is a set of readings and argument steps: when all of them are good, the claim is supported (or refuted), and
// without any one of them this ground falls. Certain copies of entered roots add nothing and are left out. Grounds are
// ranked by the probability that all of the set is good, so shared sources are counted once.
// Cost: at most `most_grounds` sets are kept for each claim, and one small exact figure is worked out for each set looked at.
// After de Kleer, "An assumption-based TMS" (1986) for the sets, and Laskey and Lehner (1989) for their probabilities.
#pragma once

#include <vector>

#include "kg/weigh/question.h"
#include "kg/weigh/weight.h"

namespace saggar {

constexpr std::size_t most_grounds = 8;

struct Grounds {
    std::vector<Ground> in_favour;
    std::vector<Ground> against;
};

// For the first claim of the question, with the chances of the graph.
Grounds grounds_of(Question& question);

// Independent sources behind the claim: certain copies count as their root, members of a wholly dependent family as one,
// readings that were taken back not at all. Through arguments, the sources of the premises count.
std::size_t roots_behind(Question& question, CaseIndex claim, bool against);

}  // namespace saggar
