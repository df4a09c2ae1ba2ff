// Breaks a text into lines that fit a width.
//
// Breaks fall where Unicode allows them (UAX 14, through ICU); a word too long for a line is broken between
// user-perceived signs (UAX 29), never inside one. Widths come from measure.h. Cost: linear in the text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "viz/text/measure.h"

namespace saggar::viz {

struct Wrapped {
    std::vector<std::string> lines;  // at least one, perhaps empty; blanks at line ends are gone
    double width = 0;                // of the widest line
    bool cut = false;                // true: lines were left out and the last line ends in an ellipsis
};

// `text` is valid UTF-8 without line ends (see clean_line). max_lines 0: no limit.
Wrapped wrap(std::string_view text, double max_width, double size, Face face = Face::book, std::size_t max_lines = 0);

// Picks the width so that the block is about `ratio` times as wide as high, between min_width and max_width.
Wrapped wrap_block(std::string_view text, double min_width, double max_width, double ratio, double size,
                   double line_height, Face face = Face::book, std::size_t max_lines = 0);

}  // namespace saggar::viz
