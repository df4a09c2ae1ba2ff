// Strings that are not EDTF are refused, and the error stands at the part that is at fault.
//
// Source of the rules: Library of Congress, "Extended Date/Time Format (EDTF) Specification", 4 February 2019 (extended
// format only, no spaces, real calendar days, no time of day in intervals, Y only beyond four digits). The draft of
// 2012 wrote "u", "unknown" and "open"; the specification of 2019 replaced them.
#include <catch2/catch.hpp>

#include "kg/time/edtf_read.h"

using namespace saggar::time;

namespace {

struct Refusal {
    const char* text;
    const char* id;
    std::size_t offset;
    const char* slice;
};

const Refusal refusals[] = {
    {"1960-06-31", "edtf-day", 8, "31"},
    {"2006-13", "edtf-month", 5, "13"},
    {"2001-20", "edtf-month", 5, "20"},
    {"2001-42", "edtf-month", 5, "42"},
    {"-0000", "edtf-year", 0, "-0000"},
    {"Y2006", "edtf-letter-year", 0, "Y2006"},
    {"+2006", "edtf-unexpected", 0, "+"},
    {"20067890", "edtf-year", 0, "20067890"},
    {" 1863-03-29", "edtf-unexpected", 0, " "},
    {"1863- 03-29", "edtf-unexpected", 5, " "},
    {"2012-10-10T1:10:10", "edtf-clock", 11, "1"},
    {"1985-04-12T23:20:30z", "edtf-unexpected", 19, "z"},
    {"2004-01-01T10:10:10-05:60", "edtf-clock", 23, "60"},
    {"2005-07-25T10:10:10Z/2006-01-01T10:10:10Z", "edtf-clock", 10, "T10:10:10Z"},
    {"2012///4444", "edtf-interval", 5, "/"},
    {"[1667,1668, 1670..1672]", "edtf-unexpected", 11, " "},
    {"[1999}", "edtf-unexpected", 5, "}"},
    {"15XX-02-3X", "edtf-day", 8, "3X"},
    {"156X-09-31", "edtf-day", 8, "31"},
    {"2016-XX-32", "edtf-day", 8, "32"},
    {"199u", "edtf-unexpected", 3, "u"},
    {"unknown/1985", "edtf-unexpected", 0, "unknown"},
    {"1985/open", "edtf-unexpected", 5, "open"},
    {"", "edtf-empty", 0, ""},
};

}  // namespace

TEST_CASE("what is not EDTF is refused at the right place, with a reason and a next step") {
    for (const Refusal& refusal : refusals) {
        INFO(refusal.text);
        const auto edtf = read_edtf(refusal.text);
        REQUIRE_FALSE(edtf);
        CHECK(edtf.error.id == refusal.id);
        CHECK(edtf.error.offset == refusal.offset);
        CHECK(std::string_view(refusal.text).substr(edtf.error.offset, edtf.error.length) == refusal.slice);
        CHECK_FALSE(edtf.error.reason.empty());
        CHECK_FALSE(edtf.error.next_step.empty());
    }
}

TEST_CASE("every proper prefix of a date is a date or is refused inside itself") {
    const std::string_view text = "?-1985-~04-12/{";
    for (std::size_t length = 0; length <= text.size(); ++length) {
        const auto edtf = read_edtf(text.substr(0, length));
        if (!edtf) CHECK(edtf.error.offset + edtf.error.length <= length);
    }
}

TEST_CASE("an error becomes a problem whose column counts code points") {
    const std::string text = "1985-é";
    const auto edtf = read_edtf(text);
    REQUIRE_FALSE(edtf);
    const auto problem = saggar::time::problem_of(edtf.error, text, "pieces.csv", 12);
    CHECK(problem.place.column == 6);
    CHECK(problem.place.length == 1);
    CHECK(problem.place.line == 12);
    CHECK(to_text(problem) ==
          "pieces.csv:12:6: error: Found \"é\" where a month of two digits should stand. [edtf-unexpected]\n"
          "    1985-é\n"
          "         ^\n"
          "    next: Correct it, or put the words in the remark and leave the date empty.\n");
}
