// Days of the proleptic Gregorian calendar, far beyond four-digit years.
//
// A day is a number: days since 1970-01-01. The year before 1 is 0 (1 BCE), as in ISO 8601. The two conversions follow
// the public-domain algorithms of H. Hinnant, "chrono-Compatible Low-Level Date Algorithms" (2013), in 64 bits. All
// O(1).
#pragma once

#include <compare>
#include <cstdint>
#include <string>

namespace saggar::time {

// Years from -10^15 to 10^15 can be written as dates; their days fit an int64 with room to spare.
inline constexpr std::int64_t max_year = 1'000'000'000'000'000;

struct Civil {
    std::int64_t year = 1970;
    int month = 1;
    int day = 1;
    auto operator<=>(const Civil&) const = default;
};

struct Day {
    std::int64_t count = 0;  // days since 1970-01-01
    auto operator<=>(const Day&) const = default;
};

// Beyond all days: an end that is open or unknown.
inline constexpr Day before_all{INT64_MIN};
inline constexpr Day after_all{INT64_MAX};
inline bool is_limit(Day day) {
    return day == before_all || day == after_all;
}

bool is_leap(std::int64_t year);
// 28 to 31. `month` is 1 to 12.
int days_in_month(std::int64_t year, int month);

Day day_of(const Civil& civil);
Civil civil_of(Day day);

// Moves by days or by calendar months or years; before_all and after_all stay where they are.
// A day the target month does not have becomes its last day.
Day plus_days(Day day, std::int64_t days);
Day plus_months(Day day, std::int64_t months);
Day plus_years(Day day, std::int64_t years);

// "1948-03-12", "-0043-03-15", "Y17000-01-01" (an extension for display: EDTF has no such days), "..": a limit.
std::string to_text(Day day);

}  // namespace saggar::time
