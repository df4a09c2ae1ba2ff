// The next thing to look at: what is expected to tell most between the likeliest candidates.
//
// Looked for among what is claimed of these candidates and of what they belong to, under the relations that the profile says
// can be seen on a piece. How far each candidate has it is taken from its best single way, the product of the supports along it.
// The few to be proposed are chosen by an estimate (of a claim that nothing speaks against its most reliable reading stands for
// all), and then weighed. Three answers are possible: it is there, it is
// not, it cannot be told; the last changes nothing. Cost: the claims of the candidates compared.
#pragma once

#include <vector>

#include "queries/identify.h"

namespace saggar {

inline constexpr std::size_t most_compared = 24;  // candidates
inline constexpr double least_gain = .005;        // bits; what tells less is not worth the look

struct NextQuestion {
    std::size_t most = 3;
    const std::vector<Sighting>& asked;  // these are not proposed again
};

// Fills in `next` and `compared_next` from the candidates.
void find_next(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, DateWalker& walker, CellReader& cells, const IdentifyPlan& plan,
               const NextQuestion& question, IdentifyAnswer& answer);

}  // namespace saggar
