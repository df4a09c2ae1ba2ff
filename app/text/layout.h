// Text for a person: wrapping, columns, emphasis. Widths are counted in terminal cells (UAX #11), not bytes.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace saggar::app {

struct Layout {
    std::size_t width = 80;  // cells
    bool colour = false;      // only on a terminal, never with NO_COLOR; never the only carrier of a meaning

    std::string strong(std::string_view text) const;  // headings
    std::string faint(std::string_view text) const;   // ids, page furniture
};

// The layout for standard output: COLUMNS or the terminal's width (between 60 and 140), 80 where there is no terminal.
Layout layout_of_terminal();

std::size_t cells(std::string_view text);

// Breaks at blanks so that no line is wider than `width`; lines after the first begin with `indent` blanks.
// A word wider than the line stands alone. Control characters become U+FFFD.
std::string wrap(std::string_view text, std::size_t width, std::size_t indent = 0);

// The same with a faint tail (an id) after two blanks, on a line of its own where it does not fit.
std::string wrap_with_tail(std::string_view text, std::string_view tail, const Layout& layout, std::size_t indent);

// The text on one line: blanks squeezed, control characters shown as U+FFFD, cut with an ellipsis beyond `width` cells.
std::string one_line(std::string_view text, std::size_t width);

// Rows of cells set in columns that fit `width`: the widest column is wrapped first. No trailing blanks.
// The first row is the heading, underlined, where `headed`. Every line begins with `indent` blanks.
std::string table(const std::vector<std::vector<std::string>>& rows, const Layout& layout, bool headed = true,
                  std::size_t indent = 0);

}  // namespace saggar::app
