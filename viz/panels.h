// A web of hundreds of lines, drawn as many small pictures on one sheet.
//
// No layout makes a web of 400 boxes and 800 lines followable. Here it is taken apart: a panel shows one thing and
// its lines as a comb (comb.h), every line stands in exactly one panel, and a thing may stand in several. Things are
// given panels greedily, the one with most lines not yet drawn next, which is the usual approximation of a least
// vertex cover (Johnson 1974). Boxes that have a panel of their own name it. Panels stand on the sheet in their order,
// each as high up as it fits (the bottom-left rule of Baker, Coffman and Rivest, 1980, upside down).
// Cost: lines by panels; 400 boxes and 800 lines: about 30 ms.
#pragma once

#include "viz/diagram.h"
#include "viz/layout.h"

namespace saggar::viz {

struct Panels {
    Diagram diagram;  // boxes repeated, with the number of their panel in the note
    Layout layout;
};

// `most_lines` and more outside combs are a web; a sheet larger than A0 or with lines through words is one too.
inline constexpr std::size_t kLeastForPanels = 120;

Panels in_panels(const Diagram& diagram);

}  // namespace saggar::viz
