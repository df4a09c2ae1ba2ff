// What each source does to a figure: its slope, and the figure if everything read in the source were misread.
//
// Both come from the gradient of the two events of a ratio (numerator and "no contradiction"), which are multilinear in
// the chances, so no figure is worked out again. A slope is taken along the source's reliability (Birnbaum 1969 for the
// importance of a part), with what its family shares held fixed.
#pragma once

#include <vector>

#include "kg/weigh/question.h"
#include "kg/weigh/weight.h"

namespace saggar {

// For the figure reply.values[numerator] / reply.values[no_contradiction]; `reply` must hold slopes. Largest slope first,
// then by key; sources without any effect are left out.
std::vector<Influence> influence_of(Question& question, const Reply& reply, std::size_t numerator,
                                    const Assumptions& assumptions);

}  // namespace saggar
