// Small readings of words in cells: trimming, splitting, yes and no, numbers.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace saggar {

// Without blanks at both ends: ASCII blanks, tabs, line ends, no-break and zero-width spaces.
std::string_view trim(std::string_view text);

// The parts between separators, trimmed; empty parts are left out.
std::vector<std::string_view> split_list(std::string_view text, std::string_view separator);

// A decimal number: digits with an optional sign and point; ".7" and "1." too. No exponent, no digit groups.
std::optional<double> decimal(std::string_view text);

}  // namespace saggar
