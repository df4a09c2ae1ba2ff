#include "queries/cite_text.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("commas and full stops go inside the closing quotation mark") {
    CitedText text;
    text.add(in_quotation_marks("Title")).separate(", ").add("next").separate(", ").add(in_quotation_marks("Why?")).stop();
    CHECK(to_plain(text) == "\u201CTitle,\u201D next, \u201CWhy?\u201D");
    CHECK(to_plain(CitedText("2nd ed.").stop()) == "2nd ed.");
}

TEST_CASE("quotation marks are not doubled") {
    CHECK(in_quotation_marks("\"A light\"") == "\u201CA light\u201D");
    CHECK(in_quotation_marks("\u201CA light\u201D") == "\u201CA light\u201D");
    CHECK(in_quotation_marks("\"") == "\u201C\"\u201D");
}

// Chicago Manual of Style, 17th ed., 13.30 and 6.9, from memory: single marks inside double ones; no second full stop.
TEST_CASE("quotations inside a quotation take single marks and bring their own full stop") {
    CHECK(in_quotation_marks("Page 44. \"A grocer wants it.\"") == "\u201CPage 44. \u2018A grocer wants it.\u2019\u201D");
    CHECK(in_quotation_marks("the \u201Cblue\u201D rim") == "\u201Cthe \u2018blue\u2019 rim\u201D");
    CHECK(in_quotation_marks("6\" plates") == "\u201C6\" plates\u201D");
    CHECK(to_plain(CitedText(in_quotation_marks("He said \"no.\"")).stop()) == "\u201CHe said \u2018no.\u2019\u201D");
}

TEST_CASE("markup in texts is text in every format") {
    CitedText text("<b>&*x*");
    text.add_italic("[y](z)");
    CHECK(to_html(text) == "&lt;b&gt;&amp;*x*<i>[y](z)</i>");
    CHECK(to_markdown(text) == "\\<b\\>\\&\\*x\\**\\[y\\](z)*");
}
