#include "queries/cite_locator.h"

#include <catch2/catch.hpp>
#include <string>
#include <utility>

using namespace saggar;

// Media Fragments URI 1.0 (W3C, 2012), 4.2.1 and 4.2.2, for t= and xywh=.
TEST_CASE("places in a source in words") {
    CHECK(locator_in_words("page=12") == "p. 12");
    CHECK(locator_in_words("page=12-14") == "pp. 12\u201314");
    CHECK(locator_in_words("page=3,7") == "pp. 3, 7");
    CHECK(locator_in_words("page=12", PageWords::bare) == "12");
    CHECK(locator_in_words("t=63,70.5") == "0:01:03\u20130:01:10");
    CHECK(locator_in_words("t=npt:10,0:01:05") == "0:00:10\u20130:01:05");
    CHECK(locator_in_words("t=,70") == "0:00:00\u20130:01:10");
    CHECK(locator_in_words("t=63") == "from 0:01:03");
    CHECK(locator_in_words("xywh=10,20,30,40") == "detail at 10, 20, 30 \u00D7 40 px");
    CHECK(locator_in_words("xywh=percent:10,20,30,40") == "detail at 10, 20, 30 \u00D7 40 per cent");
    CHECK(locator_in_words("page=3&xywh=0,0,9,9") == "p. 3, detail at 0, 0, 9 \u00D7 9 px");
}

// The Chicago Manual of Style, 17th ed., 14.147-14.154 and 9.60-9.64, from memory: "p." for one page, "pp." for several;
// inclusive numbers with an en dash; here always in full (12-14, 112-119), which 9.61 allows.
TEST_CASE("pages in all the ways people write them") {
    const std::pair<const char*, const char*> cases[] = {
        {"page=1", "p. 1"},
        {"page=xii", "p. xii"},
        {"page=4v", "p. 4v"},
        {"page=A3", "p. A3"},
        {"page=12-14", "pp. 12\u201314"},
        {"page=112-119", "pp. 112\u2013119"},
        {"page=12\u201314", "pp. 12\u201314"},
        {"page=12--14", "pp. 12\u201314"},
        {"page=12\u201414", "pp. 12\u201314"},
        {"page=xii-xiv", "pp. xii\u2013xiv"},
        {"page=7-7", "p. 7"},
        {"page=3,7", "pp. 3, 7"},
        {"page=3, 7", "pp. 3, 7"},
        {"page=3,7-9,12", "pp. 3, 7\u20139, 12"},
        {"page=7-9&t=1,2", "pp. 7\u20139, 0:00:01\u20130:00:02"},
    };
    for (const auto& [at, words] : cases) CHECK(locator_in_words(at) == words);
}

TEST_CASE("a page known by a name is called by it") {
    CHECK(locator_in_words("page=back cover") == "back cover");
    CHECK(locator_in_words("page=12 ff.", PageWords::bare) == "12 ff.");
    CHECK(locator_in_words("page=1-2-3") == "1-2-3");
}

TEST_CASE("a range of pages with an end missing is never half printed") {
    for (const char* at :
         {"page=-9", "page=\u20139", "page=9-", "page=-", "page=3,,4", "page=,4", "page=3,", "page=3,-9"}) {
        CHECK(locator_in_words(at) == at);
        CHECK(locator_in_words(at, PageWords::bare) == at);
        CHECK(locator_in_words(std::string(at) + "&t=1").find("pp. ") == std::string::npos);
    }
}

TEST_CASE("what is no locator stands as it is") {
    for (const char* at :
         {"back of the print", "t=soon", "xywh=1,2,3", "page=", "a & b", "", "t=1e99", "xywh=a,b,c,d"}) {
        CHECK(locator_in_words(at) == at);
    }
}
