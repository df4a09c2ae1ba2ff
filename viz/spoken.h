// What a screen reader says about a box or a line: everything the drawing shows, in words.
#pragma once

#include <string>

#include "viz/diagram.h"

namespace saggar::viz {

// "shape: Lantern; weight 0.82; citations 1, 2; disputed"
std::string spoken(const DiagramNode& node);

// "Northern was built on the shape Lantern; weight 0.82; cited for by 1, 2; cited against by 3"
std::string spoken(const Diagram& diagram, const DiagramEdge& edge);

}  // namespace saggar::viz
