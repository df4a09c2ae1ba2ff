// Mends a layout whose lines or words stand in each other's way.
//
// Lines that graze a box or cross other words are led round (detour.h); words that lie on something are moved beside
// their line. What cannot be mended stays as it was; the caller may lay out again with more room. The sheet grows
// where a line was led outside it.
#pragma once

#include "viz/clearance.h"

namespace saggar::viz {

// Gives how many clashes are left; 0: everything is clear.
std::size_t mend(const std::vector<Box>& boxes, const std::vector<Block>& blocks, const std::vector<Ends>& ends,
                 Positions& positions);

}  // namespace saggar::viz
