// Plain Monte Carlo over a lineage, for what is past the node budget.
//
// Sixty-four worlds are drawn at a time, one per bit. The number of worlds comes from Hoeffding's inequality
// ("Probability inequalities for sums of bounded random variables", JASA 1963), so the half-width holds whatever the
// event; the seed is the caller's, so the same question gives the same figure.
//
// Cost: about ten words of random bits and a few word operations per chance and 64 worlds.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "kg/weigh/figures.h"

namespace saggar::weighing {

// Worlds needed for a half-width at 95 %: 18 445 for .01.
std::size_t worlds_for(double half_width);
// The half-width at 95 % that so many worlds give.
double half_width_of(std::size_t worlds);

struct SamplePlan {
    std::uint64_t seed = 0;
    std::size_t enough = 18'445;           // stop when root `counted` held in so many worlds
    std::size_t counted = 0;
    std::size_t most_worlds = 1'000'000;   // stop here in any case
    std::size_t least = 0;                 // and as soon as it is clear that it will not hold in so many worlds by then
    bool slopes = false;
};

struct Tally {
    std::size_t worlds = 0;
    std::vector<std::size_t> holds;           // per root: in how many worlds it held
    std::vector<std::vector<double>> slopes;  // per root and variable, estimated; empty unless asked for
};

// Works for exact figures too. `chances` is indexed by variable of the lineage.
Tally sample(const Figures& figures, std::span<const double> chances, const SamplePlan& plan);

}  // namespace saggar::weighing
