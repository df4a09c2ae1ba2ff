// A text a line at a time, without its line ends (LF or CR LF).
#pragma once

#include <string_view>

#include "importers/text_input.h"

namespace saggar {

class LineInput {
public:
    explicit LineInput(TextInput& input) : input_(input) {}

    // The next line; the view holds until the next call. False at the end, and after a line longer than the limit
    // (a problem, text-long-line).
    bool next(std::string_view& line);
    // The number of the line last given, from 1.
    std::uint32_t number() const { return input_.line(); }

private:
    TextInput& input_;
    std::size_t pending_ = 0;
    bool at_end_ = false;
};

}  // namespace saggar
