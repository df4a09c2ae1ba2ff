#include "kg/time/day.h"

#include <fmt/format.h>

#include <algorithm>

namespace saggar::time {

bool is_leap(std::int64_t year) {
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int days_in_month(std::int64_t year, int month) {
    static constexpr int lengths[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap(year) ? 29 : lengths[month - 1];
}

// Years are counted from March, so that the leap day comes last; eras of 400 years all have 146 097 days.
Day day_of(const Civil& civil) {
    const std::int64_t year = civil.month <= 2 ? civil.year - 1 : civil.year;
    const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
    const std::int64_t year_of_era = year - era * 400;
    const std::int64_t month_from_march = civil.month > 2 ? civil.month - 3 : civil.month + 9;
    const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + civil.day - 1;
    const std::int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return Day{era * 146097 + day_of_era - 719468};
}

Civil civil_of(Day day) {
    const std::int64_t shifted = day.count + 719468;
    const std::int64_t era = (shifted >= 0 ? shifted : shifted - 146096) / 146097;
    const std::int64_t day_of_era = shifted - era * 146097;
    const std::int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    const std::int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
    Civil civil;
    civil.day = static_cast<int>(day_of_year - (153 * month_from_march + 2) / 5 + 1);
    civil.month = static_cast<int>(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
    civil.year = year_of_era + era * 400 + (civil.month <= 2 ? 1 : 0);
    return civil;
}

Day plus_days(Day day, std::int64_t days) {
    return is_limit(day) ? day : Day{day.count + days};
}

Day plus_months(Day day, std::int64_t months) {
    if (is_limit(day)) return day;
    Civil civil = civil_of(day);
    const std::int64_t index = civil.month - 1 + months;
    const std::int64_t years = (index >= 0 ? index : index - 11) / 12;
    civil.year += years;
    civil.month = static_cast<int>(index - years * 12) + 1;
    civil.day = std::min(civil.day, days_in_month(civil.year, civil.month));
    return day_of(civil);
}

Day plus_years(Day day, std::int64_t years) {
    return plus_months(day, years * 12);
}

std::string to_text(Day day) {
    if (is_limit(day)) return "..";
    const Civil civil = civil_of(day);
    const std::int64_t size = civil.year < 0 ? -civil.year : civil.year;
    return fmt::format("{}{}{:04}-{:02}-{:02}", size > 9999 ? "Y" : "", civil.year < 0 ? "-" : "", size, civil.month,
                       civil.day);
}

}  // namespace saggar::time
