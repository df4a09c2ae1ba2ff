#include "kg/time/bounds.h"

#include <algorithm>

namespace saggar::time {

namespace {

std::int64_t power_of_ten(int exponent) {
    std::int64_t power = 1;
    for (int i = 0; i < exponent; ++i) power *= 10;
    return power;
}

struct YearRange {
    std::int64_t first;
    std::int64_t last;
};

// Years written with "Y" or "S": magnitude, sign, and the digits that count.
YearRange years_of_number(const Year& year) {
    std::int64_t size = year.number;
    if (year.form == Year::Form::four_digits) {
        size = 0;
        for (const char digit : year.digits) size = size * 10 + (digit - '0');
    } else if (year.form == Year::Form::exponential) {
        size *= power_of_ten(year.exponent);
    }
    std::int64_t low = size;
    std::int64_t high = size;
    int digits = 0;
    for (std::int64_t rest = size; rest > 0; rest /= 10) ++digits;
    if (year.significant > 0 && year.significant < digits) {
        const std::int64_t unit = power_of_ten(digits - year.significant);
        low = size / unit * unit;
        high = low + unit - 1;
    }
    return year.negative ? YearRange{-high, -low} : YearRange{low, high};
}

// The n-th year that a four-digit pattern admits, counted by its magnitude; each X takes one decimal digit of n.
std::int64_t size_of_candidate(const Year& year, std::int64_t n) {
    std::int64_t size = 0;
    std::int64_t unit = 1;
    for (int i = 3; i >= 0; --i) {
        const char digit = year.digits[static_cast<std::size_t>(i)];
        if (digit == 'X') {
            size += n % 10 * unit;
            n /= 10;
        } else {
            size += (digit - '0') * unit;
        }
        unit *= 10;
    }
    return size;
}

// First (or last) real day of a month or day pattern within one year.
std::optional<Day> extreme_day_in_year(const Date& date, std::int64_t year, bool want_first) {
    for (int step = 1; step <= 12; ++step) {
        const int month = want_first ? step : 13 - step;
        if (date.precision != Precision::year && !date.month.admits(month)) continue;
        const int length = days_in_month(year, month);
        if (date.precision != Precision::day) return day_of({year, month, want_first ? 1 : length});
        for (int i = 1; i <= length; ++i) {
            const int day = want_first ? i : length + 1 - i;
            if (date.day.admits(day)) return day_of({year, month, day});
        }
    }
    return std::nullopt;
}

// First (or last) real day of a date whose year is four digits or X. Tries at most 10^(number of X) years; only
// 29 February needs more than one.
std::optional<Day> extreme_day(const Date& date, bool want_first) {
    const auto x_count = std::count(date.year.digits.begin(), date.year.digits.end(), 'X');
    const std::int64_t candidates = power_of_ten(static_cast<int>(x_count));
    const bool upwards = want_first != date.year.negative;
    for (std::int64_t i = 0; i < candidates; ++i) {
        const std::int64_t size = size_of_candidate(date.year, upwards ? i : candidates - 1 - i);
        if (date.year.negative && size == 0) continue;  // there is no year -0000
        if (const auto day = extreme_day_in_year(date, date.year.negative ? -size : size, want_first)) return day;
    }
    return std::nullopt;
}

struct Months {
    int first;  // counted from January of the year; below 1 or above 12: in a neighbouring year
    int length;
};

Months months_of_code(int code, const Conventions& conventions) {
    if (code >= 40) return {1 + (code - 40) * 6, 6};
    if (code >= 37) return {1 + (code - 37) * 4, 4};
    if (code >= 33) return {1 + (code - 33) * 3, 3};
    const bool south = code >= 29 || (code <= 24 && conventions.hemisphere == Hemisphere::south);
    const int season = (code - 21) % 4;  // 0 spring to 3 winter
    const int first = 3 + (season + (south ? 2 : 0)) % 4 * 3;
    if (first != 12) return {first, 3};
    switch (conventions.season_year) {
        case SeasonYear::begins:
            return {12, 3};
        case SeasonYear::ends:
            return {0, 3};
        case SeasonYear::either:
            return {0, 15};
    }
    return {12, 3};
}

std::optional<DayRange> days_of_season(const Date& date, const Conventions& conventions) {
    Date year = date;
    year.precision = Precision::year;
    const auto first = extreme_day(year, true);
    const auto last = extreme_day(year, false);
    if (!first || !last) return std::nullopt;
    const Months months = months_of_code(date.month.number(), conventions);
    const Day last_january_first = day_of({civil_of(*last).year, 1, 1});
    return DayRange{plus_months(*first, months.first - 1),
                    plus_days(plus_months(last_january_first, months.first - 1 + months.length), -1)};
}

}  // namespace

std::optional<DayRange> days_of(const Date& date, const Conventions& conventions) {
    if (date.year.form != Year::Form::four_digits || date.year.significant > 0) {
        const YearRange years = years_of_number(date.year);
        return DayRange{day_of({years.first, 1, 1}), day_of({years.last, 12, 31})};
    }
    if (date.precision == Precision::season) return days_of_season(date, conventions);
    const auto first = extreme_day(date, true);
    const auto last = extreme_day(date, false);
    if (!first || !last) return std::nullopt;
    return DayRange{*first, *last};
}

namespace {

// The range of a date with "about" applied, in the unit of its finest approximate component.
DayRange days_with_about(const Date& date, const Conventions& conventions) {
    DayRange range = days_of(date, conventions).value_or(DayRange{before_all, after_all});
    const std::int64_t reach = conventions.about;
    if (reach == 0) return range;
    if (has(date.qualifiers[2], Qualifier::approximate)) {
        range = {plus_days(range.first, -reach), plus_days(range.last, reach)};
    } else if (has(date.qualifiers[1], Qualifier::approximate) || has(date.qualifiers[0], Qualifier::approximate)) {
        std::int64_t months = 12;
        if (has(date.qualifiers[1], Qualifier::approximate)) months = date.precision == Precision::season ? 3 : 1;
        const Day after = plus_days(range.last, 1);  // month ends differ in length: move the day after
        range = {plus_months(range.first, -reach * months), plus_days(plus_months(after, reach * months), -1)};
    }
    return range;
}

constexpr Bound day_bound(Day day) {
    return Bound{Bound::Kind::day, day};
}

Bounds bounds_of_range(const DayRange& range) {
    return {day_bound(range.first), day_bound(range.last), day_bound(range.first), day_bound(range.last)};
}

Bound::Kind kind_of(const End& end) {
    switch (end.kind) {
        case End::Kind::date:
            return Bound::Kind::day;
        case End::Kind::open:
            return Bound::Kind::open;
        case End::Kind::unknown:
            return Bound::Kind::unknown;
    }
    return Bound::Kind::day;
}

// A run cannot end before it starts: the latest start is at most the latest end, the earliest end at least the earliest
// start.
Bounds bounds_of_interval(const Interval& interval, const Conventions& conventions) {
    const DayRange whole{before_all, after_all};
    const DayRange start =
        interval.start.kind == End::Kind::date ? days_with_about(interval.start.date, conventions) : whole;
    const DayRange end = interval.end.kind == End::Kind::date ? days_with_about(interval.end.date, conventions) : whole;
    const Bound::Kind start_kind = kind_of(interval.start);
    const Bound::Kind end_kind = kind_of(interval.end);
    return {Bound{start_kind, start.first}, Bound{start_kind, std::min(start.last, end.last)},
            Bound{end_kind, std::max(end.first, start.first)}, Bound{end_kind, end.last}};
}

Bounds bounds_of_set(const DateSet& set, const Conventions& conventions) {
    Bounds bounds{{Bound::Kind::day, after_all},
                  {Bound::Kind::day, after_all},
                  {Bound::Kind::day, before_all},
                  {Bound::Kind::day, before_all}};
    bool open_start = false;
    bool open_end = false;
    for (const Member& member : set.members) {
        DayRange first = days_with_about(member.first, conventions);
        DayRange last = member.kind == Member::Kind::range ? days_with_about(member.last, conventions) : first;
        first.last = std::min(first.last, last.last);
        last.first = std::max(last.first, first.first);
        if (member.kind == Member::Kind::up_to) {
            first = {before_all, before_all};
            open_start = true;
        } else if (member.kind == Member::Kind::from) {
            last = {after_all, after_all};
            open_end = true;
        }
        bounds.earliest_start.day = std::min(bounds.earliest_start.day, first.first);
        bounds.latest_start.day = std::min(bounds.latest_start.day, first.last);
        bounds.earliest_end.day = std::max(bounds.earliest_end.day, last.first);
        bounds.latest_end.day = std::max(bounds.latest_end.day, last.last);
    }
    if (!set.all) {  // one date somewhere between the extremes
        bounds.latest_start.day = bounds.latest_end.day;
        bounds.earliest_end.day = bounds.earliest_start.day;
    }
    for (Bound* bound : {&bounds.earliest_start, &bounds.latest_start, &bounds.earliest_end, &bounds.latest_end}) {
        if ((open_start && bound->day == before_all) || (open_end && bound->day == after_all))
            bound->kind = Bound::Kind::open;
    }
    return bounds;
}

}  // namespace

Bounds bounds_of(const Edtf& edtf, const Conventions& conventions) {
    if (const auto* date = std::get_if<Date>(&edtf.value)) return bounds_of_range(days_with_about(*date, conventions));
    if (const auto* interval = std::get_if<Interval>(&edtf.value)) return bounds_of_interval(*interval, conventions);
    return bounds_of_set(std::get<DateSet>(edtf.value), conventions);
}

Bounds widen(const Bounds& bounds, int years) {
    Bounds wide = bounds;
    wide.earliest_start.day = plus_years(bounds.earliest_start.day, -years);
    wide.latest_start.day = plus_years(bounds.latest_start.day, years);
    wide.earliest_end.day = plus_years(bounds.earliest_end.day, -years);
    wide.latest_end.day = plus_years(bounds.latest_end.day, years);
    return wide;
}

}  // namespace saggar::time
