#include "queries/cite_locator.h"

#include <catch2/catch.hpp>

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

TEST_CASE("what is no locator stands as it is") {
    for (const char* at :
         {"back of the print", "t=soon", "xywh=1,2,3", "page=", "a & b", "", "t=1e99", "xywh=a,b,c,d"}) {
        CHECK(locator_in_words(at) == at);
    }
}
