// Claims as arrows between nodes, and the question whether some way of arrows that hold leads from the start to a goal.
//
// For questions over all chains of a neighbourhood: their number may be exponential in the arrows, so the event is built
// by reachability (what is reached in one more arrow, until nothing is added), never by listing chains. A claim may
// stand for several arrows. Cost of the event: at most nodes x arrows gates; after Colbourn, "The combinatorics of
// network reliability" (1987).
#pragma once

#include <cstdint>
#include <vector>

#include "kg/store/ids.h"

namespace saggar {

struct ClaimWeb {
    struct Arrow {
        std::uint32_t from = 0;
        std::uint32_t to = 0;
        std::uint32_t claim = 0;  // index into claims
    };
    std::uint32_t nodes = 0;
    std::uint32_t start = 0;
    std::vector<std::uint32_t> goals;  // without the start
    std::vector<ClaimRef> claims;      // no duplicates
    std::vector<Arrow> arrows;
};

}  // namespace saggar
