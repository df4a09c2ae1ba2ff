// A picture read back from its SVG, and what a reader would call a fault of it. Knows nothing of how it was laid out.
#pragma once

#include <string>
#include <vector>

namespace saggar::testing {

// Each fault in words, "line e3 runs through or along box n7"; empty: nothing overlaps, is crossed or cut.
// Boxes and lines are told apart by class and id as SVG has them; words are measured with the tables of viz/text.
// - no box overlaps another; no words beside a line lie on a box, on other words, or under another line;
// - no line runs within 3 px of a box that is not its end;
// - nothing reaches outside the sheet.
std::vector<std::string> faults_of_svg(const std::string& svg);

}  // namespace saggar::testing
