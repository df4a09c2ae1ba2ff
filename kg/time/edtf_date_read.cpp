#include "kg/time/edtf_date_read.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/time/bounds.h"

namespace saggar::time {

namespace {

bool is_mark(char c) {
    return c == '?' || c == '~' || c == '%';
}

Qualifier qualifier_of(char mark) {
    return mark == '?' ? Qualifier::uncertain : mark == '~' ? Qualifier::approximate : Qualifier::both;
}

// A mark left of component `index` covers it alone.
bool read_left_mark(EdtfCursor& cursor, Date& date, int index) {
    if (!is_mark(cursor.peek())) return true;
    auto& qualifier = date.qualifiers[static_cast<std::size_t>(index)];
    qualifier = qualifier | qualifier_of(cursor.peek());
    cursor.advance();
    cursor.level = 2;
    if (!is_mark(cursor.peek())) return true;
    return cursor.fail("edtf-qualifier", cursor.at() - 1, 2, "Two qualifiers stand side by side.",
                       "Write % for uncertain and approximate together.");
}

// A mark right of component `index` covers it and all left of it. At the end of the date it is level 1, else level 2.
bool read_right_mark(EdtfCursor& cursor, Date& date, int index) {
    if (!is_mark(cursor.peek())) return true;
    const Qualifier mark = qualifier_of(cursor.peek());
    for (int i = 0; i <= index; ++i) {
        auto& qualifier = date.qualifiers[static_cast<std::size_t>(i)];
        qualifier = qualifier | mark;
    }
    cursor.advance();
    cursor.level = std::max(cursor.level, cursor.peek() == '-' ? 2 : 1);
    if (!is_mark(cursor.peek())) return true;
    return cursor.fail("edtf-qualifier", cursor.at() - 1, 2, "Two qualifiers stand side by side.",
                       "Write % for uncertain and approximate together.");
}

bool read_two_digits(EdtfCursor& cursor, std::string_view what, TwoDigits& part) {
    const std::size_t start = cursor.at();
    const std::string_view digits = cursor.take_digits_and_x();
    if (digits.empty()) return cursor.fail_unexpected(fmt::format("{} of two digits", what));
    if (digits.size() == 1 && !cursor.at_end() &&
        std::string_view("-/,.]}?~%T ").find(cursor.peek()) == std::string_view::npos) {
        return cursor.fail_unexpected("a digit or X");
    }
    if (digits.size() != 2) {
        return cursor.fail("edtf-two-digits", start, digits.size(),
                           fmt::format("\"{}\" is not {}: it has two digits.", digits, what),
                           digits.size() == 1 ? fmt::format("Write 0{} or XX.", digits) : "Write two digits.");
    }
    part = {digits[0], digits[1]};
    return true;
}

bool admits_any(const TwoDigits& part, int highest) {
    for (int number = 1; number <= highest; ++number) {
        if (part.admits(number)) return true;
    }
    return false;
}

bool read_month(EdtfCursor& cursor, Date& date) {
    const std::size_t start = cursor.at();
    if (!read_two_digits(cursor, "a month", date.month)) return false;
    date.precision = Precision::month;
    const std::string_view slice = cursor.text().substr(start, 2);
    if (date.month.has_x()) {
        if (admits_any(date.month, 12)) return true;
        return cursor.fail("edtf-month", start, 2, fmt::format("No month is written {}.", slice),
                           "Months are 01 to 12.");
    }
    const int number = date.month.number();
    if (number >= 1 && number <= 12) return true;
    if (number < 21 || number > 41) {
        return cursor.fail("edtf-month", start, 2, fmt::format("There is no month {}.", slice),
                           "Months are 01 to 12, seasons 21 to 24, other parts of a year 25 to 41.");
    }
    date.precision = Precision::season;
    cursor.level = std::max(cursor.level, number <= 24 ? 1 : 2);
    return true;
}

bool read_day(EdtfCursor& cursor, Date& date) {
    const std::size_t start = cursor.at();
    if (!read_two_digits(cursor, "a day", date.day)) return false;
    const std::string_view slice = cursor.text().substr(start, 2);
    if (date.precision == Precision::season) {
        return cursor.fail("edtf-day", start, 2, "A season or another part of a year has no days.",
                           "Leave the day out, or write a month.");
    }
    date.precision = Precision::day;
    if (!admits_any(date.day, 31)) {
        return cursor.fail("edtf-day", start, 2, fmt::format("There is no day {}.", slice), "Days are 01 to 31.");
    }
    if (days_of(date)) return true;
    return cursor.fail("edtf-day", start, 2, fmt::format("There is no day {} in that month and year.", slice),
                       "Check the day against the length of the month.");
}

// Level 1 knows X only at the end of a plain year (one or two digits) and as a whole XX month or day behind known
// parts.
int level_of_x(const Date& date) {
    const auto& y = date.year.digits;
    const auto year_x = std::count(y.begin(), y.end(), 'X');
    const int count = components(date);
    const bool month_x = count > 1 && date.month.has_x();
    const bool day_x = count > 2 && date.day.has_x();
    if (year_x == 0 && !month_x && !day_x) return 0;
    const TwoDigits both_x{'X', 'X'};
    if (year_x > 0) {
        const bool rightmost = y[3] == 'X' && (year_x == 1 || (year_x == 2 && y[2] == 'X'));
        return count == 1 && rightmost ? 1 : 2;
    }
    if (month_x && date.month != both_x) return 2;
    if (day_x && date.day != both_x) return 2;
    return month_x && count == 3 && !day_x ? 2 : 1;
}

bool read_clock_of(EdtfCursor& cursor, Date& date) {
    const std::size_t start = cursor.at();
    cursor.advance();
    Clock clock;
    if (!read_clock(cursor, clock)) return false;
    const bool qualified = std::any_of(date.qualifiers.begin(), date.qualifiers.end(),
                                       [](Qualifier qualifier) { return qualifier != Qualifier::none; });
    if (qualified || level_of_x(date) > 0) {
        return cursor.fail("edtf-clock", start, cursor.at() - start,
                           "A time of day goes only with a full date without qualifiers and X.", "Leave the time out.");
    }
    date.clock = clock;
    return true;
}

}  // namespace

bool read_date(EdtfCursor& cursor, Date& date) {
    date = {};
    if (!read_left_mark(cursor, date, 0) || !read_year(cursor, date.year) || !read_right_mark(cursor, date, 0))
        return false;
    const bool year_only = date.year.form != Year::Form::four_digits || date.year.significant > 0;
    if (year_only && cursor.peek() == '-') {
        return cursor.fail("edtf-year-only", cursor.at(), 1, "Nothing can follow a year written with Y or S.",
                           "Leave month and day out.");
    }
    if (cursor.take('-')) {
        if (!read_left_mark(cursor, date, 1) || !read_month(cursor, date) || !read_right_mark(cursor, date, 1))
            return false;
        if (cursor.take('-')) {
            if (!read_left_mark(cursor, date, 2) || !read_day(cursor, date) || !read_right_mark(cursor, date, 2))
                return false;
        }
    }
    if (cursor.peek() == 'T' && date.precision == Precision::day && !read_clock_of(cursor, date)) return false;
    cursor.level = std::max(cursor.level, level_of_x(date));
    return true;
}

}  // namespace saggar::time
