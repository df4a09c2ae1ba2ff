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
