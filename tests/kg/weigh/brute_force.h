// The slow, obvious twin of the figures: enumerates every world of a small lineage. Tests only.
#pragma once

#include <span>
#include <vector>

#include "kg/weigh/lineage.h"

namespace saggar::weighing {

// The probability of every root, by adding up the worlds in which it holds. At most about 20 variables.
std::vector<double> by_brute_force(const Lineage& lineage, std::span<const Event> roots, std::span<const double> chances);

}  // namespace saggar::weighing
