// Spans: limits, widening, and whether two dates can meet.
#include "kg/time/span.h"

#include <catch2/catch.hpp>

#include "kg/time/edtf_read.h"

using namespace saggar::time;

TEST_CASE("a span is the outermost range of a date") {
    CHECK(to_text(*read_span("1931/1934")) == "1931-01-01 to 1934-12-31");
    CHECK(to_text(*read_span("1931/..")) == "not before 1931-01-01");
    CHECK(to_text(*read_span("/1934")) == "not after 1934-12-31");
    CHECK(to_text(*read_span("[..1931,1945..]")) == "any time");
    CHECK(to_text(*read_span("{1967,1944}")) == "1944-01-01 to 1967-12-31");
    CHECK_FALSE(read_span("1931/1930"));
    CHECK(read_span("1931/1930").error.id == "edtf-order");
}

TEST_CASE("a span tells whether its date was uncertain or approximate") {
    struct Marked {
        const char* text;
        bool uncertain;
        bool approximate;
    };
    for (const Marked& marked :
         {Marked{"1935", false, false}, Marked{"1935?", true, false}, Marked{"1935~", false, true},
          Marked{"1935%", true, true}, Marked{"1935-?04", true, false}, Marked{"1931~/..", false, true},
          Marked{"../1934?", true, false}, Marked{"[1931,1934..1936~]", false, true}}) {
        INFO(marked.text);
        const auto span = read_span(marked.text);
        REQUIRE(span);
        CHECK(span->uncertain == marked.uncertain);
        CHECK(span->approximate == marked.approximate);
    }
}

TEST_CASE("spans are disjoint when no day is in both, even after the tolerance") {
    const auto span = [](const char* text) { return *read_span(text); };
    CHECK(disjoint(span("1935"), span("1936")));
    CHECK(disjoint(span("1936"), span("1935")));
    CHECK(overlap(span("1935"), span("1935-06-01")));
    CHECK(overlap(span("1931/1935-06"), span("1935-06-30/1940")));
    CHECK(disjoint(span("1931/1935-06"), span("1935-07-01/1940")));
    CHECK(overlap(span("../1934"), span("1920/..")));
    CHECK(disjoint(span("../1934"), span("1935/..")));
    CHECK(overlap(span("1935"), span("1936"), 1));
    CHECK(disjoint(span("1935"), span("1937"), 1));
    CHECK(overlap(span("1935"), span("1937"), 2));
    CHECK(overlap(*read_span("1935~", {.about = 2}), span("1937")));
    CHECK(disjoint(*read_span("1935~", {.about = 1}), span("1937")));
    CHECK(to_text(common(span("1931/1935"), span("1934/.."))) == "1934-01-01 to 1935-12-31");
}

TEST_CASE("widening moves all four bounds outwards") {
    const auto bounds = widen(bounds_of(*read_edtf("1931/1934")), 2);
    CHECK(to_text(bounds.earliest_start.day) == "1929-01-01");
    CHECK(to_text(bounds.latest_start.day) == "1933-12-31");
    CHECK(to_text(bounds.earliest_end.day) == "1932-01-01");
    CHECK(to_text(bounds.latest_end.day) == "1936-12-31");
    CHECK(to_text(widen(*read_span("1931/.."), 2)) == "not before 1929-01-01");
}
