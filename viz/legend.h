// The legend of a picture: one entry for every mark, line style and outline that stands in it, and no others.
#pragma once

#include <vector>

#include "viz/block.h"
#include "viz/diagram.h"
#include "viz/notation.h"

namespace saggar::viz {

enum class LegendDrawing { text, outline, line, badge };

// One row. `drawing` says which of the following fields is to be drawn before the words.
struct LegendRow {
    LegendDrawing drawing = LegendDrawing::text;
    Outline outline = Outline::box;
    DiagramEdge line;    // an example of the line
    bool headed = true;  // false: the line without its arrow head
    Badge badge = Badge::in_favour;
    std::string sign;  // what a text file prints instead of a drawing
    std::string meaning;
};

std::vector<LegendRow> legend_of(const Diagram& diagram);

}  // namespace saggar::viz
