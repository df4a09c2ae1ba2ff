// A way for one line round everything that stands in its way.
//
// The layout engine's curves now and then graze a box or cross the words of another line. Such a line is drawn anew:
// the shortest way among the corners of what must be kept clear (Lozano-Perez and Wesley, "An algorithm for planning
// collision-free paths among polyhedral obstacles", 1979), found by A*, past the line's own words where it has some,
// then with its corners rounded as far as there is room. It leaves and meets its boxes square to a side.
// Cost: corners near by, squared, by obstacles near by; about a millisecond among 50 boxes.
#pragma once

#include <cstddef>
#include <optional>

#include "viz/clearance.h"

namespace saggar::viz {

// The line anew, with a head where `position` has one; nothing where no way is left. `lane`: lines of different lanes
// keep different distances, so that two that round the same corner do not fall together.
// The scene's line itself is not looked at; its words, where `past_words`, are passed at a side.
std::optional<EdgePosition> detour(const Scene& scene, std::size_t line, const EdgePosition& position, int lane,
                                   bool past_words);

// A free place for the words of the line, beside it and near its middle; nothing where there is none.
std::optional<Point> place_beside(const Scene& scene, std::size_t line, double width, double height);

}  // namespace saggar::viz
