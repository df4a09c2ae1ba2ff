// The 64 examples of the specification, in its order, with the level under whose heading they stand.
//
// Source of the strings, levels and meanings: Library of Congress, "Extended Date/Time Format (EDTF) Specification",
// 4 February 2019, https://www.loc.gov/standards/datetime/. The days follow from the meanings given there; the months
// of spring are our convention (bounds.h). Y171010000S3 is only read: editions of the page disagree on its range.
#include <catch2/catch.hpp>

#include "kg/time/bounds.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"

using namespace saggar::time;

namespace {

struct Example {
    const char* text;
    int level;
    const char* earliest_start;
    const char* latest_start;
    const char* earliest_end;
    const char* latest_end;
};

const Example examples[] = {
    // Level 0: date
    {"1985-04-12", 0, "1985-04-12", "1985-04-12", "1985-04-12", "1985-04-12"},
    {"1985-04", 0, "1985-04-01", "1985-04-30", "1985-04-01", "1985-04-30"},
    {"1985", 0, "1985-01-01", "1985-12-31", "1985-01-01", "1985-12-31"},
    // date and time
    {"1985-04-12T23:20:30", 0, "1985-04-12", "1985-04-12", "1985-04-12", "1985-04-12"},
    {"1985-04-12T23:20:30Z", 0, "1985-04-12", "1985-04-12", "1985-04-12", "1985-04-12"},
    {"1985-04-12T23:20:30-04", 0, "1985-04-12", "1985-04-12", "1985-04-12", "1985-04-12"},
    {"1985-04-12T23:20:30+04:30", 0, "1985-04-12", "1985-04-12", "1985-04-12", "1985-04-12"},
    // time interval
    {"1964/2008", 0, "1964-01-01", "1964-12-31", "2008-01-01", "2008-12-31"},
    {"2004-06/2006-08", 0, "2004-06-01", "2004-06-30", "2006-08-01", "2006-08-31"},
    {"2004-02-01/2005-02-08", 0, "2004-02-01", "2004-02-01", "2005-02-08", "2005-02-08"},
    {"2004-02-01/2005-02", 0, "2004-02-01", "2004-02-01", "2005-02-01", "2005-02-28"},
    {"2004-02-01/2005", 0, "2004-02-01", "2004-02-01", "2005-01-01", "2005-12-31"},
    {"2005/2006-02", 0, "2005-01-01", "2005-12-31", "2006-02-01", "2006-02-28"},
    // Level 1: letter-prefixed calendar year
    {"Y170000002", 1, "Y170000002-01-01", "Y170000002-12-31", "Y170000002-01-01", "Y170000002-12-31"},
    {"Y-170000002", 1, "Y-170000002-01-01", "Y-170000002-12-31", "Y-170000002-01-01", "Y-170000002-12-31"},
    // seasons
    {"2001-21", 1, "2001-03-01", "2001-05-31", "2001-03-01", "2001-05-31"},
    // qualification of a date (complete)
    {"1984?", 1, "1984-01-01", "1984-12-31", "1984-01-01", "1984-12-31"},
    {"2004-06~", 1, "2004-06-01", "2004-06-30", "2004-06-01", "2004-06-30"},
    {"2004-06-11%", 1, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    // unspecified digit(s) from the right
    {"201X", 1, "2010-01-01", "2019-12-31", "2010-01-01", "2019-12-31"},
    {"20XX", 1, "2000-01-01", "2099-12-31", "2000-01-01", "2099-12-31"},
    {"2004-XX", 1, "2004-01-01", "2004-12-31", "2004-01-01", "2004-12-31"},
    {"1985-04-XX", 1, "1985-04-01", "1985-04-30", "1985-04-01", "1985-04-30"},
    {"1985-XX-XX", 1, "1985-01-01", "1985-12-31", "1985-01-01", "1985-12-31"},
    // open end
    {"1985-04-12/..", 1, "1985-04-12", "1985-04-12", "open", "open"},
    {"1985-04/..", 1, "1985-04-01", "1985-04-30", "open", "open"},
    {"1985/..", 1, "1985-01-01", "1985-12-31", "open", "open"},
    // open start
    {"../1985-04-12", 1, "open", "open", "1985-04-12", "1985-04-12"},
    {"../1985-04", 1, "open", "open", "1985-04-01", "1985-04-30"},
    {"../1985", 1, "open", "open", "1985-01-01", "1985-12-31"},
    // unknown end
    {"1985-04-12/", 1, "1985-04-12", "1985-04-12", "unknown", "unknown"},
    {"1985-04/", 1, "1985-04-01", "1985-04-30", "unknown", "unknown"},
    {"1985/", 1, "1985-01-01", "1985-12-31", "unknown", "unknown"},
    // unknown start
    {"/1985-04-12", 1, "unknown", "unknown", "1985-04-12", "1985-04-12"},
    {"/1985-04", 1, "unknown", "unknown", "1985-04-01", "1985-04-30"},
    {"/1985", 1, "unknown", "unknown", "1985-01-01", "1985-12-31"},
    // negative calendar year
    {"-1985", 1, "-1985-01-01", "-1985-12-31", "-1985-01-01", "-1985-12-31"},
    // Level 2: exponential year
    {"Y-17E7", 2, "Y-170000000-01-01", "Y-170000000-12-31", "Y-170000000-01-01", "Y-170000000-12-31"},
    // significant digits
    {"1950S2", 2, "1900-01-01", "1999-12-31", "1900-01-01", "1999-12-31"},
    {"Y171010000S3", 2, nullptr, nullptr, nullptr, nullptr},
    {"Y3388E2S3", 2, "Y338000-01-01", "Y338999-12-31", "Y338000-01-01", "Y338999-12-31"},
    // sub-year groupings
    {"2001-34", 2, "2001-04-01", "2001-06-30", "2001-04-01", "2001-06-30"},
    // one of a set
    {"[1667,1668,1670..1672]", 2, "1667-01-01", "1672-12-31", "1667-01-01", "1672-12-31"},
    {"[..1760-12-03]", 2, "open", "1760-12-03", "open", "1760-12-03"},
    {"[1760-12..]", 2, "1760-12-01", "open", "1760-12-01", "open"},
    {"[1760-01,1760-02,1760-12..]", 2, "1760-01-01", "open", "1760-01-01", "open"},
    {"[1667,1760-12]", 2, "1667-01-01", "1760-12-31", "1667-01-01", "1760-12-31"},
    {"[..1984]", 2, "open", "1984-12-31", "open", "1984-12-31"},
    // all members
    {"{1667,1668,1670..1672}", 2, "1667-01-01", "1667-12-31", "1672-01-01", "1672-12-31"},
    {"{1960,1961-12}", 2, "1960-01-01", "1960-12-31", "1961-12-01", "1961-12-31"},
    {"{..1984}", 2, "open", "open", "1984-01-01", "1984-12-31"},
    // group qualification (the first is the level 1 form again: the specification repeats it under level 2)
    {"2004-06-11%", 1, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    {"2004-06~-11", 2, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    {"2004?-06-11", 2, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    // qualification of individual component
    {"?2004-06-~11", 2, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    {"2004-%06-11", 2, "2004-06-11", "2004-06-11", "2004-06-11", "2004-06-11"},
    // unspecified digit
    {"156X-12-25", 2, "1560-12-25", "1569-12-25", "1560-12-25", "1569-12-25"},
    {"15XX-12-25", 2, "1500-12-25", "1599-12-25", "1500-12-25", "1599-12-25"},
    {"XXXX-12-XX", 2, "0000-12-01", "9999-12-31", "0000-12-01", "9999-12-31"},
    {"1XXX-XX", 2, "1000-01-01", "1999-12-31", "1000-01-01", "1999-12-31"},
    {"1XXX-12", 2, "1000-12-01", "1999-12-31", "1000-12-01", "1999-12-31"},
    {"1984-1X", 2, "1984-10-01", "1984-12-31", "1984-10-01", "1984-12-31"},
    // interval
    {"2004-06-~01/2004-06-~20", 2, "2004-06-01", "2004-06-01", "2004-06-20", "2004-06-20"},
    {"2004-06-XX/2004-07-03", 2, "2004-06-01", "2004-06-30", "2004-07-03", "2004-07-03"},
};

std::string shown(const Bound& bound) {
    switch (bound.kind) {
        case Bound::Kind::day:
            return to_text(bound.day);
        case Bound::Kind::open:
            return "open";
        case Bound::Kind::unknown:
            return "unknown";
    }
    return "";
}

}  // namespace

TEST_CASE("every example of the EDTF specification has its level and bounds") {
    static_assert(sizeof(examples) / sizeof(examples[0]) == 64);
    for (const Example& example : examples) {
        INFO(example.text);
        const auto edtf = read_edtf(example.text);
        REQUIRE(edtf);
        CHECK(edtf->level == example.level);
        const auto again = read_edtf(write_edtf(*edtf));
        REQUIRE(again);
        CHECK(*again == *edtf);
        if (!example.earliest_start) continue;
        const Bounds bounds = bounds_of(*edtf);
        CHECK(shown(bounds.earliest_start) == example.earliest_start);
        CHECK(shown(bounds.latest_start) == example.latest_start);
        CHECK(shown(bounds.earliest_end) == example.earliest_end);
        CHECK(shown(bounds.latest_end) == example.latest_end);
    }
}

TEST_CASE("the normal form keeps the spelling of every example except left-hand qualifiers") {
    for (const Example& example : examples) {
        const std::string text = example.text;
        const std::string expected = text == "?2004-06-~11" ? "2004?-06-~11" : text;
        CHECK(write_edtf(*read_edtf(text)) == expected);
    }
}
