// Weights of claims as pictures need them, and where they come from.
#pragma once

#include <functional>
#include <optional>

#include "kg/store/ids.h"

namespace saggar {
class Weigher;
}

namespace saggar::viz {

// What is known of a claim's weight.
struct Figure {
    std::optional<double> support;  // empty: the sources contradict each other so much that there is no figure
    bool disputed = false;
};
using FigureOf = std::function<Figure(ClaimRef)>;

// The weigher's figures; it must outlive the function.
FigureOf figures_of(Weigher& weigher);

}  // namespace saggar::viz
