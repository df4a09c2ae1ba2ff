// The neighbourhood of a thing: everything that claims join to it within a number of steps.
//
// Breadth first, so the nearest things are drawn first. Cost: the claims of every thing drawn.
#pragma once

#include <cstddef>
#include <set>
#include <string>

#include "viz/draft.h"

namespace saggar::viz {

struct NeighbourhoodOptions {
    std::size_t depth = 1;
    std::set<std::string> only;  // kinds of things to draw; empty: all. The thing itself is always drawn
    double least_support = 0;    // claims below this are left out and counted
    bool values = true;          // dates, numbers and texts too
    std::size_t most = 4000;     // things looked at before the rest is left out
};

// The claims in the order they were met, each once.
Diagram neighbourhood(const Snapshot& snapshot, EntityId centre, const NeighbourhoodOptions& options,
                      DraftOptions draft);

}  // namespace saggar::viz
