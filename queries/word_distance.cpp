#include "queries/word_distance.h"

#include <algorithm>

namespace saggar {

std::vector<char32_t> signs_of(std::string_view text) {
    std::vector<char32_t> signs;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if ((byte & 0xC0) == 0x80 && !signs.empty())
            signs.back() = signs.back() << 6 | (byte & 0x3F);
        else
            signs.push_back(byte);
    }
    return signs;
}

std::size_t word_distance(const std::vector<char32_t>& a, const std::vector<char32_t>& b, std::size_t limit) {
    if (std::max(a.size(), b.size()) - std::min(a.size(), b.size()) > limit) return limit + 1;
    std::vector<std::size_t> before(b.size() + 1), row(b.size() + 1), next(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        next[0] = i;
        std::size_t least = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            next[j] = std::min({row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) next[j] = std::min(next[j], before[j - 2] + 1);
            least = std::min(least, next[j]);
        }
        if (least > limit + 1) return limit + 1;
        before.swap(row);
        row.swap(next);
    }
    return std::min(row[b.size()], limit + 1);
}

}  // namespace saggar
