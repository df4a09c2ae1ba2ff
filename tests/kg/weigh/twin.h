// The slow, obvious twin of the weigher: plays every world of a small random graph, straight from the specification.
//
// It shares no code with kg/weigh: it reads the random graph and not the store, draws each chance when it first needs
// it, plays on, and goes back to try the other outcome until every world has been played.
#pragma once

#include <cstddef>
#include <optional>

#include "kg/weigh/masses.h"
#include "tests/kg/weigh/random_graph.h"

namespace saggar::testing {

struct TwinAnswer {
    Masses masses;
    double raw = 0;  // P(supported), contradictions ignored
    std::size_t worlds = 0;
};

// Nothing where more than `most_worlds` would have to be played.
std::optional<TwinAnswer> play_all_worlds(const RandomGraph& graph, int claim, std::size_t most_worlds = 1u << 20);

}  // namespace saggar::testing
