#include "queries/cite_text.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("commas and full stops go inside the closing quotation mark") {
    CitedText text;
    text.add(quoted("Title")).separate(", ").add("next").separate(", ").add(quoted("Why?")).stop();
    CHECK(to_plain(text) == "\u201CTitle,\u201D next, \u201CWhy?\u201D");
    CHECK(to_plain(CitedText("2nd ed.").stop()) == "2nd ed.");
}

TEST_CASE("quotation marks are not doubled") {
    CHECK(quoted("\"A light\"") == "\u201CA light\u201D");
    CHECK(quoted("\u201CA light\u201D") == "\u201CA light\u201D");
    CHECK(quoted("\"") == "\u201C\"\u201D");
}

TEST_CASE("markup in texts is text in every format") {
    CitedText text("<b>&*x*");
    text.add_italic("[y](z)");
    CHECK(to_html(text) == "&lt;b&gt;&amp;*x*<i>[y](z)</i>");
    CHECK(to_markdown(text) == "\\<b\\>\\&\\*x\\**\\[y\\](z)*");
}
