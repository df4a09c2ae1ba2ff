// Days against the calendar of the C++ standard library (std::chrono, C++20), and known day numbers.
#include "kg/time/day.h"

#include <catch2/catch.hpp>
#include <chrono>

using namespace saggar::time;

TEST_CASE("day numbers agree with std::chrono from year -5000 to 5000") {
    std::int64_t checked = 0;
    for (int year = -5000; year <= 5000; ++year) {
        for (int month = 1; month <= 12; ++month) {
            const auto last =
                static_cast<unsigned>((std::chrono::year(year) / static_cast<int>(month) / std::chrono::last).day());
            if (static_cast<int>(last) != days_in_month(year, month)) FAIL("month length");
            for (const unsigned day : {1u, 15u, last}) {
                const std::chrono::year_month_day date{
                    std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)), std::chrono::day(day)};
                const auto count = std::chrono::sys_days(date).time_since_epoch().count();
                const Civil civil{year, month, static_cast<int>(day)};
                if (day_of(civil).count != count || civil_of(Day{count}) != civil) FAIL(to_text(day_of(civil)));
                ++checked;
            }
        }
    }
    CHECK(checked == 10001 * 12 * 3);
}

TEST_CASE("every day number from 1800 to 2100 turns into a date and back") {
    Day day = day_of({1800, 1, 1});
    for (; civil_of(day).year < 2101; day = plus_days(day, 1)) {
        if (day_of(civil_of(day)) != day) FAIL(day.count);
    }
    CHECK(day == day_of({2101, 1, 1}));
}

TEST_CASE("the ends of the range of years hold") {
    for (const std::int64_t year : {-max_year, max_year}) {
        for (const Civil civil : {Civil{year, 1, 1}, Civil{year, 12, 31}}) {
            CHECK(civil_of(day_of(civil)) == civil);
            CHECK_FALSE(is_limit(plus_years(day_of(civil), 1000)));
        }
    }
    CHECK(day_of({-max_year, 1, 1}) > before_all);
    CHECK(day_of({max_year, 12, 31}) < after_all);
}

TEST_CASE("moving by months and years keeps to the calendar") {
    CHECK(plus_years(day_of({1936, 2, 29}), 1) == day_of({1937, 2, 28}));
    CHECK(plus_years(day_of({1936, 2, 29}), -4) == day_of({1932, 2, 29}));
    CHECK(plus_months(day_of({1935, 1, 31}), 1) == day_of({1935, 2, 28}));
    CHECK(plus_months(day_of({1935, 1, 31}), -2) == day_of({1934, 11, 30}));
    CHECK(plus_months(day_of({1935, 12, 1}), 1) == day_of({1936, 1, 1}));
    CHECK(plus_months(day_of({1935, 1, 1}), -13) == day_of({1933, 12, 1}));
    CHECK(plus_days(after_all, -5) == after_all);
    CHECK(plus_years(before_all, 5) == before_all);
}

TEST_CASE("days are shown as EDTF where EDTF has them") {
    CHECK(to_text(day_of({1948, 3, 12})) == "1948-03-12");
    CHECK(to_text(day_of({0, 2, 29})) == "0000-02-29");
    CHECK(to_text(day_of({-43, 3, 15})) == "-0043-03-15");
    CHECK(to_text(day_of({-12345, 3, 15})) == "Y-12345-03-15");
    CHECK(to_text(before_all) == "..");
}
