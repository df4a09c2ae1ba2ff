#include "viz/text/measure.h"

#include <catch2/catch.hpp>

using namespace saggar::viz;

// Advance widths as FreeType reads them from DejaVuSans.ttf 2.37 (fc-query, ftdump; 2048 units to the em):
// "a" 1255, "i" 569, "m" 1995, "W" 2025, bold "a" 1382.
TEST_CASE("widths are those of DejaVu Sans") {
    CHECK(sign_advance('a', Face::book) == Approx(1255 * 1000.0 / 2048).margin(1));
    CHECK(sign_advance('i', Face::book) == Approx(569 * 1000.0 / 2048).margin(1));
    CHECK(sign_advance('m', Face::book) == Approx(1995 * 1000.0 / 2048).margin(1));
    CHECK(sign_advance('W', Face::book) == Approx(2025 * 1000.0 / 2048).margin(1));
    CHECK(sign_advance('a', Face::bold) == Approx(1382 * 1000.0 / 2048).margin(1));
}

TEST_CASE("marks take no room, wide signs more than an em, accented letters that of their base") {
    CHECK(sign_advance(U'\u0301', Face::book) == 0);
    CHECK(sign_advance(U'\u200D', Face::book) == 0);
    CHECK(sign_advance(U'\u9752', Face::book) >= 1000);
    CHECK(sign_advance(U'\U0001FAD6', Face::book) >= 1000);
    CHECK(sign_advance(U'\u1EA4', Face::book) == sign_advance(U'A', Face::book));
}

TEST_CASE("a text is as wide as its signs, in proportion to the size") {
    CHECK(text_width("", 12) == 0);
    CHECK(text_width("aaaa", 20) == Approx(4 * text_width("a", 20)));
    CHECK(text_width("Lantern", 24) == Approx(2 * text_width("Lantern", 12)));
    CHECK(text_width("\xFF", 10) > 0);
}
