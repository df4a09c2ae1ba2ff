// How each reading of the claim asked about entered: in its own right, as a copy, taken back, without basis.
#pragma once

#include <vector>

#include "kg/weigh/question.h"
#include "kg/weigh/weight.h"

namespace saggar {

// Evidence of the first claim of the question, then lists that leave it out.
std::vector<ReadingShown> shown_readings(Question& question);

// Whether some dependence that matters here is not known at all: two readings meet in a family of that kind.
bool dependence_unknown(const Case& question);

}  // namespace saggar
