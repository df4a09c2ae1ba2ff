// Places in a text: from byte offsets to line, column and the line as written.
//
// The line starts are found once, on the first question; a question is then a binary search. Lines end at LF; a CR
// before it is left out of the shown line. Of a line over 400 bytes the part round the place is kept.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "kg/model/problem.h"

namespace saggar {

// Borrows both views: they must outlive it. Not thread-safe (the index is made on demand).
class TextLines {
public:
    TextLines(std::string_view file, std::string_view text, std::uint32_t first_line = 1)
        : file_(file), text_(text), first_line_(first_line) {}

    std::string_view file() const { return file_; }
    std::string_view text() const { return text_; }

    // The place of the bytes [begin, end); what goes past the end of the line is not underlined.
    Place place(std::size_t begin, std::size_t end) const;

    // The number of the line that holds `offset`.
    std::uint32_t line_of(std::size_t offset) const;

private:
    std::size_t index_of(std::size_t offset) const;

    std::string_view file_;
    std::string_view text_;
    std::uint32_t first_line_;
    mutable std::vector<std::size_t> starts_;
};

// The place of the bytes [begin, end) of `line`, which is line number `number` of `file`.
Place place_in_line(std::string_view file, std::uint32_t number, std::string_view line, std::size_t begin,
                    std::size_t end);

// The whole code point whose first byte stands at `at`.
std::string_view sign_at(std::string_view text, std::size_t at);

}  // namespace saggar
