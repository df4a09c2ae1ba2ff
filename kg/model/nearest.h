// "Did you mean …?": the known word nearest to a mistyped one.
//
// Distance: optimal string alignment (insert, delete, replace, swap of neighbours), bytes. A word is near when at most
// a third of its letters, and at least two, have to change. Cost: |word| x |candidate| for each candidate; words longer
// than 64 bytes have no near one.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace saggar {

std::size_t edit_distance(std::string_view a, std::string_view b);

// The nearest of the candidates, the first in order among equals. Nothing where none is near.
std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace saggar
