#include "viz/text/clean.h"

#include <catch2/catch.hpp>

using namespace saggar::viz;

// Which signs XML may hold: "Char ::= #x9 | #xA | #xD | [#x20-#xD7FF] | [#xE000-#xFFFD] | [#x10000-#x10FFFF]",
// Extensible Markup Language (XML) 1.0, fifth edition, section 2.2.
TEST_CASE("what cannot be shown is replaced, not dropped") {
    const std::pair<std::string, std::string> cases[] = {
        {"plain", "plain"},
        {"", ""},
        {"  two  blanks ", "two blanks"},
        {"tab\tline\r\nend", "tab line end"},
        {std::string("nul\0end", 7), "nul\uFFFDend"},
        {"bell\x07", "bell\uFFFD"},
        {"\x7F", "\uFFFD"},
        {"\uFFFE", "\uFFFD"},
        {"\uFDD0", "\uFFFD"},
        {"turned \u202Eback", "turned \uFFFDback"},
        {"isolate \u2066x\u2069", "isolate \uFFFDx\uFFFD"},
        {"S\u00E8vres \U0001FAD6", "S\u00E8vres \U0001FAD6"},
    };
    for (const auto& [in, out] : cases) CHECK(clean_line(in) == out);
}

// The Unicode Standard 15.0, section 3.9, table 3-8: the ill-formed sequence below becomes these replacements.
TEST_CASE("ill-formed bytes are replaced by maximal subparts") {
    CHECK(clean_line("\x61\xF1\x80\x80\xE1\x80\xC2\x62\x80\x63\x80\xBF\x64") ==
          "a\uFFFD\uFFFD\uFFFDb\uFFFDc\uFFFD\uFFFDd");
    CHECK(clean_line("\xC0\xAF") == "\uFFFD\uFFFD");
    CHECK(clean_line("\xED\xA0\x80") == "\uFFFD\uFFFD\uFFFD");
}

TEST_CASE("the first strong sign gives the reading order") {
    CHECK(reads_right_to_left("\u05E4\u05E0\u05E1 Lantern"));
    CHECK(reads_right_to_left("12 \u0634\u0643\u0644"));
    CHECK_FALSE(reads_right_to_left("Lantern \u05E4\u05E0\u05E1"));
    CHECK_FALSE(reads_right_to_left("1934"));
    CHECK(holds_right_to_left("Lantern \u05E4\u05E0\u05E1"));
    CHECK_FALSE(holds_right_to_left("Lantern"));
}
