// How much hangs on a dispute.
//
// A claim rests on another when an argument leads from it there, directly or through others; when it is about a thing
// whose identity is in question; or when it names the disputed claim's subject as its object, so that every chain from
// it to the disputed object passes the dispute ("this plate is of the line; who ordered the line?"). Of a date, those
// count by which the vocabulary's time orders go ("this plate is of the shape; when was the shape dropped?").
// Cost: the claims counted; at most `most_counted` of them.
#pragma once

#include <cstddef>
#include <vector>

#include "kg/store/snapshot.h"

namespace saggar {

inline constexpr std::size_t most_counted = 10'000;

// How many claims rest on any of these, themselves not counted.
std::size_t resting_on(const Snapshot& snapshot, const std::vector<ClaimRef>& claims);

}  // namespace saggar
