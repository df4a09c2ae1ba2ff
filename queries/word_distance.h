// How far one word is from another: edits of one sign, and swaps of two neighbours, each counting one and each sign touched
// once ("optimal string alignment"; Damerau, "A technique for computer detection and correction of spelling errors", 1964).
// Signs are code points. Cost: the product of the lengths, cut off at a limit.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace saggar {

// The code points of UTF-8 as numbers that differ where they do; not the numbers of Unicode.
std::vector<char32_t> signs_of(std::string_view text);

// `limit` + 1 where it is more than the limit.
std::size_t word_distance(const std::vector<char32_t>& a, const std::vector<char32_t>& b, std::size_t limit);

}  // namespace saggar
