#include "kg/model/nearest.h"

#include <algorithm>

namespace saggar {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    const std::size_t width = b.size() + 1;
    std::vector<std::size_t> before_last(width), last(width), row(width);
    for (std::size_t j = 0; j < width; ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j < width; ++j) {
            const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        before_last.swap(last);
        last.swap(row);
    }
    return last[b.size()];
}

std::optional<std::string> nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
    if (word.size() > 64) return std::nullopt;
    std::size_t best = std::max<std::size_t>(2, word.size() / 3) + 1;
    std::optional<std::string> found;
    for (const std::string& candidate : candidates) {
        if (candidate.size() > 64) continue;
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < best && distance < std::max(word.size(), candidate.size())) {
            best = distance;
            found = candidate;
        }
    }
    return found;
}

}  // namespace saggar
