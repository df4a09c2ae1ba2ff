#include "kg/time/written_point.h"

#include <fmt/format.h>

#include "kg/time/bounds.h"
#include "kg/time/day.h"
#include "kg/time/written_part.h"

namespace saggar::time {

namespace {

TwoDigits two_digits(int number) {
    return {static_cast<char>('0' + number / 10), static_cast<char>('0' + number % 10)};
}

bool is_century_word(const WrittenToken& token) {
    return token.is_word("century") || token.is_word("cent") || token.is_word("centuries");
}

bool fail_two_digit_year(WrittenCursor& cursor, std::size_t offset) {
    return cursor.fail(
        "written-two-digit-year", offset,
        "A year of two digits does not say its century, and a spreadsheet may have made it from something else.",
        "Write the year with four digits.");
}

// A year of exactly four digits at the cursor.
bool read_plain_year(WrittenCursor& cursor, int& year) {
    const WrittenToken& token = cursor.peek();
    if (token.kind != WrittenToken::Kind::number) return cursor.fail_here();
    const std::size_t offset = token.offset;
    cursor.advance();
    if (token.text.size() == 2) return fail_two_digit_year(cursor, offset);
    if (token.text.size() != 4) {
        return cursor.fail("written-year", offset, fmt::format("\"{}\" is not a year of four digits.", token.text),
                           "Write the year with four digits.");
    }
    if (token.text[0] == '0' || token.text > "2199") {
        return cursor.fail("written-year", offset,
                           fmt::format("\"{}\" looks like a slip for another year.", token.text),
                           "Correct it; if the year is meant, write it as EDTF.");
    }
    year = token.value();
    return true;
}

bool set_day(WrittenCursor& cursor, WrittenPoint& point, int year, int month, int day, std::size_t day_offset) {
    if (month < 1 || month > 12 || day < 1 || day > days_in_month(year, month)) {
        return cursor.fail("written-day", day_offset, "There is no such day in the calendar.",
                           "Check day, month and year.");
    }
    Date date = date_of_year(year);
    date.precision = Precision::day;
    date.month = two_digits(month);
    date.day = two_digits(day);
    set_single(point, date);
    return true;
}

bool set_month(WrittenPoint& point, int year, int code, Precision precision) {
    Date date = date_of_year(year);
    date.precision = precision;
    date.month = two_digits(code);
    set_single(point, date);
    return true;
}

// "12 March 1948", "12th of March, 1948": the cursor stands on the day.
bool read_day_first(WrittenCursor& cursor, WrittenPoint& point) {
    const WrittenToken& day = cursor.peek();
    cursor.advance();
    if (is_ordinal_ending(cursor.peek())) cursor.advance();
    cursor.take_word("of");
    const int month = month_of_word(cursor.peek().text);
    if (month == 0) return cursor.fail_here();
    cursor.advance();
    cursor.take_mark('.');
    cursor.take_mark(',');
    int year = 0;
    return read_plain_year(cursor, year) && set_day(cursor, point, year, month, day.value(), day.offset);
}

// "March 1948", "March 12, 1948", or "March" alone: the cursor stands on the month.
bool read_month_first(WrittenCursor& cursor, WrittenPoint& point) {
    const std::size_t offset = cursor.peek().offset;
    const int month = month_of_word(cursor.peek().text);
    cursor.advance();
    cursor.take_mark('.');
    const WrittenToken& next = cursor.peek();
    const bool short_number = next.kind == WrittenToken::Kind::number && next.text.size() <= 2;
    if (short_number) {
        std::size_t length = is_ordinal_ending(cursor.peek(1)) ? 2 : 1;
        if (cursor.peek(length).is_mark(',')) ++length;
        cursor.advance(length);
        if (cursor.at_end()) return fail_two_digit_year(cursor, offset);
        int year = 0;
        return read_plain_year(cursor, year) && set_day(cursor, point, year, month, next.value(), next.offset);
    }
    if (next.is_mark('-') && cursor.peek(1).is_number(2)) {  // Feb-40
        cursor.advance(2);
        return fail_two_digit_year(cursor, offset);
    }
    cursor.take_mark(',');
    cursor.take_word("of");
    if (cursor.peek().kind != WrittenToken::Kind::number) {
        point.year_missing = true;
        return set_month(point, 0, month, Precision::month);
    }
    int year = 0;
    return read_plain_year(cursor, year) && set_month(point, year, month, Precision::month);
}

bool read_season_first(WrittenCursor& cursor, WrittenPoint& point) {
    const int code = season_of_word(cursor.peek().text);
    cursor.advance();
    cursor.take_mark(',');
    cursor.take_word("of");
    int year = 0;
    return read_plain_year(cursor, year) && set_month(point, year, code, Precision::season);
}

bool is_tight_hyphen(const WrittenCursor& cursor, std::size_t ahead) {
    return cursor.peek(ahead).is_mark('-') && cursor.peek(ahead).typed_hyphen && !cursor.peek(ahead).after_blank &&
           !cursor.peek(ahead + 1).after_blank;
}

// 1948-03-12 or 1935-07, written as in ISO 8601. Behind the year; nothing happens where it is neither.
bool read_iso_rest(WrittenCursor& cursor, WrittenPoint& point, int year) {
    if (!is_tight_hyphen(cursor, 0) || !cursor.peek(1).is_number(2)) return true;
    const WrittenToken& month = cursor.peek(1);
    if (is_tight_hyphen(cursor, 2) && cursor.peek(3).is_number(2)) {
        const WrittenToken& day = cursor.peek(3);
        cursor.advance(4);
        return set_day(cursor, point, year, month.value(), day.value(), day.offset);
    }
    if (month.value() < 1 || month.value() > 12 || cursor.peek(2).is_word("s")) return true;  // a range: 1931-34
    cursor.advance(2);
    if (month.value() > year % 100) {
        return cursor.fail(
            "written-ambiguous", point.offset,
            fmt::format("{0}-{1} may mean {0} to {2}{1} or month {1} of {0}.", year, month.text, year / 100),
            fmt::format("Write {0}/{2}{1} for the years, or the month by name.", year, month.text, year / 100));
    }
    return set_month(point, year, month.value(), Precision::month);
}

bool is_s_behind(const WrittenCursor& cursor, std::size_t ahead) {
    const std::size_t s = cursor.peek(ahead).is_mark('\'') ? ahead + 1 : ahead;
    return cursor.peek(s).is_word("s") && !cursor.peek(s).after_blank && !cursor.peek(ahead).after_blank;
}

bool read_decade_rest(WrittenCursor& cursor, WrittenPoint& point, int year, const WrittenPart& part) {
    cursor.advance(cursor.peek().is_mark('\'') ? 2 : 1);
    if (year % 100 == 0) {
        return cursor.fail("written-ambiguous", point.offset,
                           fmt::format("{0}s may mean ten years or a hundred.", year),
                           fmt::format("Write {}-{:02} or the century by its number.", year, 9));
    }
    if (year % 10 != 0) {
        return cursor.fail("written-decade", point.offset, fmt::format("{}s is not a decade.", year),
                           fmt::format("Write {}s, or the year.", year / 10 * 10));
    }
    return set_decade(cursor, point, year, part);
}

bool read_year_first(WrittenCursor& cursor, WrittenPoint& point, const WrittenPart& part) {
    int year = 0;
    if (!read_plain_year(cursor, year)) return false;
    if (is_s_behind(cursor, 0)) return read_decade_rest(cursor, point, year, part);
    if (part.kind != WrittenPart::Kind::whole) {
        return cursor.fail("written-part", part.offset, "Parts are read of decades and centuries only.",
                           "Write the months, or leave the part out.");
    }
    set_single(point, date_of_year(year));
    return read_iso_rest(cursor, point, year);
}

// 197- and 18--, a decade and a hundred years in library cataloguing (AACR2 1.4F7).
bool read_dashed_year(WrittenCursor& cursor, WrittenPoint& point, bool& done) {
    const WrittenToken& token = cursor.peek();
    const std::size_t dash_count = token.is_number(3) ? 1 : token.is_number(2) ? 2 : 0;
    done = false;
    if (dash_count == 0 || token.text[0] == '0') return true;
    for (std::size_t i = 1; i <= dash_count; ++i) {
        if (!cursor.peek(i).is_mark('-') || cursor.peek(i).after_blank) return true;
    }
    const WrittenToken& next = cursor.peek(dash_count + 1);
    if (next.kind == WrittenToken::Kind::number || next.kind == WrittenToken::Kind::word || next.is_mark('-'))
        return true;
    Date date = date_of_year(token.value() * (dash_count == 1 ? 10 : 100));
    for (std::size_t i = 4 - dash_count; i < 4; ++i) date.year.digits[i] = 'X';
    set_single(point, date);
    point.decade = dash_count == 1;
    cursor.advance(dash_count + 1);
    done = true;
    return true;
}

bool fail_numeric(WrittenCursor& cursor, std::size_t offset) {
    const char mark = cursor.peek(1).text[0];
    while (cursor.peek().kind == WrittenToken::Kind::number && cursor.peek(1).is_mark(mark) &&
           cursor.peek(2).kind == WrittenToken::Kind::number) {
        cursor.advance(2);
    }
    cursor.advance();
    return cursor.fail("written-numeric", offset,
                       "A date in numbers alone does not say which is the day, the month or the year.",
                       "Write the month by name, or the date as 1948-03-12.");
}

bool read_number_first(WrittenCursor& cursor, WrittenPoint& point, const WrittenPart& part) {
    const WrittenToken& token = cursor.peek();
    const WrittenToken& next = cursor.peek(1);
    const std::size_t behind = is_ordinal_ending(next) ? 2 : 1;
    if (token.text.size() <= 2 && is_century_word(cursor.peek(behind))) {
        cursor.advance(behind + 1);
        if (token.value() < 11 || token.value() > 21) {
            return cursor.fail("written-century", token.offset, "Centuries are read from the 11th to the 21st.",
                               "Write the years as EDTF.");
        }
        return set_century(point, token.value(), part);
    }
    if (token.text.size() >= 4) return read_year_first(cursor, point, part);
    bool done = false;
    if (!read_dashed_year(cursor, point, done) || done) return !cursor.error();
    if (part.kind != WrittenPart::Kind::whole || token.text.size() > 2) return cursor.fail_here();
    const bool joined = next.is_mark('/') || next.is_mark('.') || next.is_mark('-');
    if (joined && cursor.peek(2).kind == WrittenToken::Kind::number) return fail_numeric(cursor, token.offset);
    if (cursor.peek(behind).kind == WrittenToken::Kind::end) {
        cursor.advance(behind);
        return cursor.fail("written-year", token.offset,
                           fmt::format("\"{}\" is not a year of four digits.", token.text),
                           "Write the year with four digits.");
    }
    return read_day_first(cursor, point);
}

bool read_base(WrittenCursor& cursor, WrittenPoint& point, const WrittenPart& part) {
    const WrittenToken& token = cursor.peek();
    if (token.kind == WrittenToken::Kind::number) return read_number_first(cursor, point, part);
    if (token.kind != WrittenToken::Kind::word) return cursor.fail_here();
    if (is_century_word(cursor.peek(1)) && ordinal_of_word(token.text) > 10) {
        cursor.advance(2);
        return set_century(point, ordinal_of_word(token.text), part);
    }
    if (part.kind != WrittenPart::Kind::whole) return cursor.fail_here();
    if (month_of_word(token.text)) return read_month_first(cursor, point);
    if (season_of_word(token.text)) return read_season_first(cursor, point);
    return cursor.fail_here();
}

// ca., probably, "?" in any order.
Qualifier read_words_before(WrittenCursor& cursor) {
    Qualifier all = Qualifier::none;
    for (;;) {
        const WrittenToken& token = cursor.peek();
        const bool about = token.kind == WrittenToken::Kind::word && is_about_word(token.text);
        const bool perhaps =
            token.is_mark('?') || (token.kind == WrittenToken::Kind::word && is_perhaps_word(token.text));
        if (!about && !perhaps) return all;
        all = all | (about ? Qualifier::approximate : Qualifier::uncertain);
        cursor.advance();
        cursor.take_mark('.');
    }
}

Qualifier read_marks_after(WrittenCursor& cursor) {
    if (cursor.take_mark('?')) return Qualifier::uncertain;
    if (cursor.peek().is_mark('(') && cursor.peek(1).is_mark('?') && cursor.peek(2).is_mark(')')) {
        cursor.advance(3);
        return Qualifier::uncertain;
    }
    return Qualifier::none;
}

}  // namespace

bool point_can_start(const WrittenCursor& cursor) {
    const WrittenToken& token = cursor.peek();
    if (token.kind == WrittenToken::Kind::number || token.is_mark('?')) return true;
    if (token.kind != WrittenToken::Kind::word) return false;
    return is_about_word(token.text) || is_perhaps_word(token.text) || month_of_word(token.text) ||
           season_of_word(token.text) || ordinal_of_word(token.text) || token.is_word("early") ||
           token.is_word("mid") || token.is_word("middle") || token.is_word("late") || token.is_word("last") ||
           token.is_word("the");
}

bool read_point(WrittenCursor& cursor, WrittenPoint& point) {
    point = {};
    point.offset = cursor.peek().offset;
    point.before = read_words_before(cursor);
    cursor.take_word("the");
    WrittenPart part;
    if (!read_written_part(cursor, part)) return false;
    cursor.take_word("the");
    point.before = point.before | read_words_before(cursor);
    if (!read_base(cursor, point, part)) return false;
    point.after = read_marks_after(cursor);
    return true;
}

bool read_second_point(WrittenCursor& cursor, const WrittenPoint& first, WrittenPoint& point) {
    point = {};
    point.offset = cursor.peek().offset;
    const std::size_t start = cursor.index();
    const Qualifier before = read_words_before(cursor);
    const WrittenToken& token = cursor.peek();
    const bool short_number = token.is_number(2) || token.is_number(1);
    const bool day_follows = is_ordinal_ending(cursor.peek(1)) || month_of_word(cursor.peek(1).text) != 0;
    if (!short_number || day_follows || first.stretch || first.first.precision != Precision::year) {
        cursor.go_to(start);
        return read_point(cursor, point);
    }
    const auto& digits = first.first.year.digits;
    const std::size_t kept = 4 - token.text.size();
    Date date = first.first;
    date.qualifiers = {};
    for (std::size_t i = kept; i < 4; ++i) date.year.digits[i] = token.text[i - kept];
    if (first.decade) {
        if (!token.is_number(2) || !is_s_behind(cursor, 1) || token.text[1] != '0') return cursor.fail_here();
        cursor.advance(cursor.peek(1).is_mark('\'') ? 3 : 2);
        date.year.digits[3] = 'X';
        point.decade = true;
    } else {
        if (digits[3] == 'X') return cursor.fail_here();
        cursor.advance();
    }
    point.before = before;
    set_single(point, date);
    point.after = read_marks_after(cursor);
    return true;
}

}  // namespace saggar::time
