#include "queries/cite_draft.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("a draft's links and claim ids are found in order") {
    CHECK(names_in_draft("The [Lantern](shape:lantern) was [hers](claim:7k3abcde), see claim:7k3abcde and "
                         "(claim:zzzz1).\n[Lantern](shape:lantern \"title\")") ==
          std::vector<std::string>{"shape:lantern", "claim:7k3abcde", "claim:zzzz1"});
    CHECK(
        names_in_draft("[page](https://example.org/a) [mail](mailto:x@y.z) disclaim:7k3abcde claim:ab []( ](").empty());
    CHECK(names_in_draft("").empty());
    CHECK(names_in_draft("@").empty());
}

// Pandoc User's Guide, "Citation syntax": [@doe99; @smith2000, pp. 33-35], [-@doe99], @doe99 says; keys may hold single
// punctuation marks inside, not at their end.
TEST_CASE("citation keys of pandoc's Markdown are found") {
    CHECK(names_in_draft("Blah [see @source:doe99, pp. 33-35; also @smith2000, chap. 1]. @hale-1979-pinnace says so "
                         "[-@source:doe99]. On @shape:lantern: and (@claim:7k3abcde).") ==
          std::vector<std::string>{"source:doe99", "source:smith2000", "source:hale-1979-pinnace", "shape:lantern",
                                   "claim:7k3abcde"});
    CHECK(names_in_draft("write to quance@example.org").empty());
}

namespace {

DraftCitation part(std::string name, std::string at = {}, std::string prefix = {}, std::string suffix = {},
                   bool without_author = false) {
    return {std::move(name), std::move(prefix), std::move(at), std::move(suffix), without_author};
}

std::vector<DraftCitation> only(std::string_view text) {
    const auto mentions = mentions_in_draft(text);
    REQUIRE(mentions.size() == 1);
    CHECK(mentions[0].is_citation);
    return mentions[0].parts;
}

}  // namespace

// Pandoc User's Guide, "Citation syntax": its own examples, with our keys where they are longer.
TEST_CASE("prefix, locator, suffix, several keys and a missing author are read") {
    using V = std::vector<DraftCitation>;
    CHECK(only("Blah blah [@doe99].") == V{part("source:doe99")});
    CHECK(only("[see @doe99, pp. 33-35 and *passim*; @smith04, chap. 1].") ==
          V{part("source:doe99", "page=33-35", "see", " and *passim*"), part("source:smith04", "chap. 1")});
    CHECK(only("[@{source:doe99}, p.  33]") == V{part("source:doe99", "page=33")});
    CHECK(only("[@smith, {pp. iv, vi-xi, (xv)-(xvii)} with suffix here]") ==
          V{part("source:smith", "pp. iv, vi-xi, (xv)-(xvii)", "", " with suffix here")});
    CHECK(only("[@smith{}, 99 years later]") == V{part("source:smith", "", "", ", 99 years later")});
    CHECK(only("Smith says blah [-@smith04].") == V{part("source:smith04", "", "", "", true)});
    CHECK(only("@smith04 says blah.") == V{part("source:smith04", "", "", "", true)});
    CHECK(only("@smith04 [p. 33] says blah.") == V{part("source:smith04", "page=33", "", "", true)});
    CHECK(only("@smith04 [p. 33; also @doe99, 2]") ==
          V{part("source:smith04", "page=33", "", "", true), part("source:doe99", "page=2", "also")});
    CHECK(only("[@smith p. 3, 5]") == V{part("source:smith", "page=3,5")});
    CHECK(only("[@smith, chapter 2, and passim]") == V{part("source:smith", "chap. 2", "", ", and passim")});
    CHECK(only("[@smith, xii]") == V{part("source:smith", "page=xii")});
    CHECK(only("[@smith and elsewhere]") == V{part("source:smith", "", "", " and elsewhere")});
    CHECK(only("[@smith, fol. 4v]") == V{part("source:smith", "fol. 4v")});
    CHECK(only("[@source:tape, t=63,70]") == V{part("source:tape", "t=63,70")});
    CHECK(only("over two\nlines [see\n@smith,\np. 4]") == V{part("source:smith", "page=4", "see")});
}

TEST_CASE("what is no citation makes none") {
    for (const char* text : {"write to quance@example.org", "\\@smith", "`@smith`", "``code @smith``", "[no key; @]", "a [b] c"})
        CHECK(mentions_in_draft(text).empty());
    CHECK(mentions_in_draft("[text with @smith](https://example.org)").size() == 1);  // the text of a link is text
    CHECK(mentions_in_draft("[see this; @smith]").front().written == "@smith");  // a part without a key: no citation
    CHECK(mentions_in_draft("one\n\ntwo [@smith, p. 4]").front().line == 3);
    // Deep or unclosed brackets end where the text ends, and cost no stack.
    CHECK(mentions_in_draft(std::string(100'000, '[') + "@smith").size() == 1);
}
