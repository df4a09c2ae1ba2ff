#include "viz/xml.h"

#include <catch2/catch.hpp>

using namespace saggar::viz;

TEST_CASE("numbers are short and plain") {
    CHECK(number(12) == "12");
    CHECK(number(12.5) == "12.5");
    CHECK(number(-0.001) == "0");
    CHECK(number(-0.25) == "-0.25");
    CHECK(number(100) == "100");
}

// The five predefined entities: XML 1.0, section 4.6.
TEST_CASE("texts and attributes are escaped") {
    CHECK(xml_escaped("<a b=\"c\" d='e'>&") == "&lt;a b=&quot;c&quot; d=&#39;e&#39;&gt;&amp;");
    CHECK(xml_escaped("&lt;") == "&amp;lt;");
}

TEST_CASE("elements nest and close") {
    XmlWriter xml;
    xml.open("a").attribute("x", "1\"").open("b").text("<t>").close().open("c").close().close();
    CHECK(xml.finish() == "<a x=\"1&quot;\">\n <b>&lt;t&gt;</b>\n <c/>\n</a>\n");
    XmlWriter unclosed;
    unclosed.open("a").open("b");
    CHECK(unclosed.finish() == "<a>\n <b/>\n</a>\n");
}
