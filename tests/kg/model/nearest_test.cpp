#include "kg/model/nearest.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("the edit distance counts inserts, deletes, replacements and swaps of neighbours", "[nearest]") {
    // "kitten"/"sitting" 3 is the usual textbook case (e.g. NIST Dictionary of Algorithms, "Levenshtein distance").
    CHECK(edit_distance("kitten", "sitting") == 3);
    CHECK(edit_distance("", "abc") == 3);
    CHECK(edit_distance("abc", "") == 3);
    CHECK(edit_distance("abc", "abc") == 0);
    CHECK(edit_distance("made-by", "maed-by") == 1);
    // Optimal string alignment, not the full Damerau distance: 3 and not 2 (Boytsov 2011, section 2.2).
    CHECK(edit_distance("ca", "abc") == 3);
}

TEST_CASE("the nearest word is found, and none where nothing is near", "[nearest]") {
    const std::vector<std::string> words{"made-by", "sold-by", "built-on"};
    CHECK(nearest_word("mode-by", words) == "made-by");
    CHECK(nearest_word("soldby", words) == "sold-by");
    CHECK_FALSE(nearest_word("commissioned-by", words));
    CHECK_FALSE(nearest_word("xy", {"ab"}));
    CHECK_FALSE(nearest_word(std::string(65, 'a'), {std::string(64, 'a')}));
}
