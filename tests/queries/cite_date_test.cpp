#include "queries/cite_date.h"

#include <catch2/catch.hpp>

using namespace saggar;

// Forms: Chicago Manual of Style, 17th ed., 6.78 (en dash), 9.31 and 9.35 (days, months), 14.145 ("n.d.", "ca.", "?").
TEST_CASE("dates in words") {
    const std::pair<const char*, const char*> cases[] = {
        {"1934", "1934"},
        {"1934-03", "March 1934"},
        {"1934-03-04", "4 March 1934"},
        {"1935~", "ca. 1935"},
        {"1935?", "1935?"},
        {"1935%", "ca. 1935?"},
        {"193X", "1930s"},
        {"1948-21", "spring 1948"},
        {"1936/1944", "1936\u20131944"},
        {"../1940", "until 1940"},
        {"1940/..", "from 1940"},
        {"1940/", "1940\u2013?"},
        {"1949-01/1949-03", "January 1949 \u2013 March 1949"},
        {"0812", "812"},
        {"[1934,1936]", "[1934,1936]"},
        {"19XX", "19XX"},
        {"about then", "about then"},
        {"", ""},
    };
    for (const auto& [edtf, words] : cases) CHECK(date_in_words(edtf) == words);
    CHECK(date_in_words("1934-03-04", DateOrder::month_day) == "March 4, 1934");
}

TEST_CASE("a date the title tells is not told again") {
    CHECK(title_tells_date("Journal no. 2, 1931 to 1933", "1931/1933"));
    CHECK(title_tells_date("Order list, 1 March 1962", "1962-03-01"));
    CHECK(title_tells_date("Export list, 1949", "1949"));
    CHECK_FALSE(title_tells_date("Export list, 1949", "1949-03"));
    CHECK_FALSE(title_tells_date("Export list", "1949"));
    CHECK_FALSE(title_tells_date("Journal, 1931", "1931/1933"));
    CHECK_FALSE(title_tells_date("Journal", ""));
}

TEST_CASE("a range of days is told as briefly as it can be") {
    const auto day = [](std::int64_t y, int m, int d) {
        return time::day_of({y, static_cast<std::uint8_t>(m), static_cast<std::uint8_t>(d)});
    };
    CHECK(range_in_words(day(1939, 1, 1), day(1939, 1, 31)) == "in January 1939");
    CHECK(range_in_words(day(1939, 2, 1), day(1939, 2, 28)) == "in February 1939");
    CHECK(range_in_words(day(1939, 1, 1), day(1939, 12, 31)) == "in 1939");
    CHECK(range_in_words(day(1939, 12, 1), day(1939, 12, 31)) == "in December 1939");
    CHECK(range_in_words(day(1934, 3, 4), day(1934, 3, 4)) == "on 4 March 1934");
    CHECK(range_in_words(day(1934, 3, 4), day(1934, 3, 4), DateOrder::month_day) == "on March 4, 1934");
    CHECK(range_in_words(day(1951, 2, 1), day(1952, 2, 29)) == "not before February 1951, not after February 1952");
    CHECK(range_in_words(day(1951, 2, 3), day(1955, 12, 31)) == "not before 3 February 1951, not after 1955");
    CHECK(range_in_words(day(1951, 1, 1), time::after_all) == "not before 1951");
    CHECK(range_in_words(time::before_all, day(1951, 12, 30)) == "not after 30 December 1951");
    CHECK(range_in_words(time::before_all, time::after_all) == "not known");
}
