#include "viz/text/wrap.h"

#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <string>

#include "viz/text/clean.h"

using namespace saggar::viz;

namespace {

std::string without_blanks(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c != ' ') out += c;
    }
    return out;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const auto& line : lines) out += line;
    return out;
}

}  // namespace

TEST_CASE("words are kept whole where they fit") {
    const auto wrapped = wrap("a small brown jug", text_width("a small", 12), 12);
    CHECK(wrapped.lines == std::vector<std::string>{"a small", "brown", "jug"});
    CHECK_FALSE(wrapped.cut);
    CHECK(wrap("", 100, 12).lines == std::vector<std::string>{""});
}

TEST_CASE("a word too long for a line is broken between signs") {
    const auto wrapped = wrap(std::string(500, 'w'), 100, 12);
    CHECK(joined(wrapped.lines) == std::string(500, 'w'));
    CHECK(wrapped.width <= 100);
    // One family emoji of three people joined by U+200D: one user-perceived sign, UAX 29 rule GB11.
    const std::string family = "\U0001F468\u200D\U0001F469\u200D\U0001F467";
    for (const auto& line : wrap(family + family, 10, 12).lines) CHECK(line == family);
}

TEST_CASE("too many lines are cut with an ellipsis") {
    const auto wrapped = wrap("one two three four five six", text_width("three", 12) + 1, 12, Face::book, 2);
    CHECK(wrapped.cut);
    REQUIRE(wrapped.lines.size() == 2);
    CHECK(wrapped.lines[1].ends_with("\u2026"));
    CHECK(wrapped.width <= text_width("three", 12) + 1);
}

TEST_CASE("no text is lost and no line is too wide") {
    CHECK(rc::check("wrap", [] {
        const auto text = clean_line(*rc::gen::arbitrary<std::string>());
        const double width = *rc::gen::inRange(20, 300);
        const auto wrapped = wrap(text, width, 12);
        RC_ASSERT(without_blanks(joined(wrapped.lines)) == without_blanks(text));
        RC_ASSERT(wrapped.width <= width + 1e-6);
    }));
}
