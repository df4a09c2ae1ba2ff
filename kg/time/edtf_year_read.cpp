#include <fmt/format.h>

#include <algorithm>

#include "kg/time/day.h"
#include "kg/time/edtf_date_read.h"

namespace saggar::time {

namespace {

bool fail_year_size(EdtfCursor& cursor, std::size_t start) {
    return cursor.fail("edtf-year-size", start, cursor.at() - start,
                       fmt::format("The year {} is too large; years reach from -10^15 to 10^15.",
                                   cursor.text().substr(start, cursor.at() - start)),
                       "Check the number of digits.");
}

// A whole number without a leading zero, at most `limit`.
bool read_number(EdtfCursor& cursor, std::size_t year_start, std::string_view what, std::int64_t limit,
                 std::int64_t& number) {
    const std::size_t start = cursor.at();
    const std::string_view digits = cursor.take_digits();
    if (digits.empty()) return cursor.fail_unexpected(what);
    if (digits[0] == '0') {
        return cursor.fail("edtf-zero", start, digits.size(), fmt::format("{} must not start with 0.", what),
                           "Leave the zeros out; a year of up to four digits is written without Y.");
    }
    number = 0;
    for (const char digit : digits) {
        number = number * 10 + (digit - '0');
        if (number > limit) return fail_year_size(cursor, year_start);
    }
    return true;
}

bool read_significant(EdtfCursor& cursor, std::size_t year_start, Year& year) {
    if (!cursor.take('S')) return true;
    std::int64_t count = 0;
    if (!read_number(cursor, year_start, "the number of significant digits", 99, count)) return false;
    year.significant = static_cast<int>(count);
    cursor.level = 2;
    return true;
}

bool read_exponent(EdtfCursor& cursor, std::size_t start, Year& year) {
    std::int64_t exponent = 0;
    if (!read_number(cursor, start, "the power of ten", 15, exponent)) return false;
    std::int64_t size = year.number;
    for (std::int64_t i = 0; i < exponent; ++i) {
        size *= 10;
        if (size > max_year) return fail_year_size(cursor, start);
    }
    year.form = Year::Form::exponential;
    year.exponent = static_cast<int>(exponent);
    cursor.level = 2;
    return true;
}

// Whether the finger stands where a year can stop, so that what came before it is too short rather than misspelt.
bool ends_a_year(const EdtfCursor& cursor) {
    return cursor.at_end() || std::string_view("-/,.]}?~%ST").find(cursor.peek()) != std::string_view::npos;
}

bool read_letter_year(EdtfCursor& cursor, std::size_t start, Year& year) {
    year.form = Year::Form::letter;
    year.negative = cursor.take('-');
    if (!read_number(cursor, start, "a year of five or more digits", max_year, year.number)) return false;
    cursor.level = std::max(cursor.level, 1);
    if (cursor.take('E')) {
        if (!read_exponent(cursor, start, year)) return false;
    } else if (year.number <= 9999 && !ends_a_year(cursor)) {
        return cursor.fail_unexpected("a digit");
    } else if (year.number <= 9999) {
        return cursor.fail("edtf-letter-year", start, cursor.at() - start,
                           fmt::format("{}: Y stands only before a year of five or more digits.",
                                       cursor.text().substr(start, cursor.at() - start)),
                           fmt::format("Write {}{:04}.", year.negative ? "-" : "", year.number));
    }
    return read_significant(cursor, start, year);
}

}  // namespace

bool read_year(EdtfCursor& cursor, Year& year) {
    const std::size_t start = cursor.at();
    if (cursor.take('Y')) return read_letter_year(cursor, start, year);
    year.negative = cursor.take('-');
    const std::size_t digits_start = cursor.at();
    const std::string_view digits = cursor.take_digits_and_x();
    const std::size_t length = cursor.at() - start;
    if (digits.size() > 4) {
        return cursor.fail(
            "edtf-year", start, length,
            fmt::format("\"{}\" is not a year: a year has four digits.", cursor.text().substr(start, length)),
            "Put hyphens between year, month and day; a year of five or more digits starts with Y.");
    }
    if (digits.size() < 4) {
        if (ends_a_year(cursor)) {
            if (digits.empty()) return cursor.fail_unexpected("a year of four digits");
            return cursor.fail(
                "edtf-year", start, length,
                fmt::format("\"{}\" is not a year: a year has four digits.", cursor.text().substr(start, length)),
                "Write the year out, with X for digits that are not known, as in 193X.");
        }
        return cursor.fail_unexpected(digits.empty() ? "a year" : "a digit or X");
    }
    std::copy(digits.begin(), digits.end(), year.digits.begin());
    if (year.negative && digits == "0000") {
        return cursor.fail("edtf-year", start, length, "There is no year -0000.", "Write 0000, which is 1 BCE.");
    }
    if (year.negative) cursor.level = std::max(cursor.level, 1);
    if (cursor.peek() == 'S' && digits.find('X') != std::string_view::npos) {
        return cursor.fail("edtf-significant", digits_start, cursor.at() + 1 - digits_start,
                           "A year has either digits marked X or a number of significant digits, not both.",
                           "Write 19XX or 1950S2.");
    }
    return read_significant(cursor, start, year);
}

}  // namespace saggar::time
