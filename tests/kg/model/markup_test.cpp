#include "kg/model/markup.h"

#include <catch2/catch.hpp>

using namespace saggar;

// XML 1.0 (5th edition), sections 2.4 and 4.6: what must not stand in text and attribute values, and its references. HTML knows
// the apostrophe by its number only up to version 4.
TEST_CASE("markup stands for itself", "[markup]") {
    CHECK(escaped_markup("<b title=\"x\">Tom's & Co</b>") == "&lt;b title=&quot;x&quot;&gt;Tom&#39;s &amp; Co&lt;/b&gt;");
    CHECK(escaped_markup("&amp;") == "&amp;amp;");
    CHECK(escaped_markup("S\u00E8vres") == "S\u00E8vres");
    CHECK(escaped_markup("").empty());
}
