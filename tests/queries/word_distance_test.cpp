#include "queries/word_distance.h"

#include <catch2/catch.hpp>
#include <random>
#include <string>

using namespace saggar;

namespace {

std::size_t far(const std::string& a, const std::string& b, std::size_t limit = 9) { return word_distance(signs_of(a), signs_of(b), limit); }

// The recurrence as it is written, without rows and limits.
std::size_t plainly(const std::u32string& a, const std::u32string& b, std::size_t i, std::size_t j) {
    if (i == 0 || j == 0) return i + j;
    std::size_t best = std::min({plainly(a, b, i - 1, j) + 1, plainly(a, b, i, j - 1) + 1, plainly(a, b, i - 1, j - 1) + (a[i - 1] == b[j - 1] ? 0 : 1)});
    if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) best = std::min(best, plainly(a, b, i - 2, j - 2) + 1);
    return best;
}

}  // namespace

TEST_CASE("words are as far apart as their edits and swaps", "[word_distance]") {
    CHECK(far("lantern", "lantern") == 0);
    CHECK(far("lantern", "lanterm") == 1);
    CHECK(far("known", "knwon") == 1);
    CHECK(far("kitten", "sitting") == 3);  // the textbook case of Levenshtein's distance
    CHECK(far("ca", "abc") == 3);          // where optimal string alignment and the full distance (2) differ; from memory
    CHECK(far("завод", "заводы") == 1);  // code points, not bytes
    CHECK(far("陶器", "陶") == 1);
    CHECK(far("lantern", "tern", 2) == 3);
    CHECK(far("", "ab") == 2);
}

TEST_CASE("rows and limit change nothing", "[word_distance]") {
    std::mt19937 random(20260101);
    for (int round = 0; round < 300; ++round) {
        std::u32string wide[2];
        std::string text[2];
        for (int k = 0; k < 2; ++k) {
            for (std::size_t i = random() % 6; i > 0; --i) {
                wide[k] += U"abc"[random() % 3];
                text[k] += static_cast<char>(wide[k].back());
            }
        }
        const std::size_t right = plainly(wide[0], wide[1], wide[0].size(), wide[1].size());
        for (std::size_t limit = 0; limit < 5; ++limit) CHECK(far(text[0], text[1], limit) == std::min(right, limit + 1));
    }
}
