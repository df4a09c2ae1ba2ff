#include <fmt/format.h>

#include "kg/time/edtf_date_read.h"

namespace saggar::time {

namespace {

bool read_clock_part(EdtfCursor& cursor, std::string_view what, int highest, int& number) {
    const std::size_t start = cursor.at();
    const std::string_view digits = cursor.take_digits();
    if (digits.empty()) return cursor.fail_unexpected(fmt::format("{} of two digits", what));
    if (digits.size() == 2) number = (digits[0] - '0') * 10 + (digits[1] - '0');
    if (digits.size() == 2 && number <= highest) return true;
    return cursor.fail("edtf-clock", start, digits.size(),
                       fmt::format("\"{}\" is not {}: it has two digits, 00 to {}.", digits, what, highest),
                       "Write the time as 23:20:30.");
}

bool read_shift(EdtfCursor& cursor, Clock& clock) {
    const std::size_t start = cursor.at();
    const bool behind = cursor.peek() == '-';
    cursor.advance();
    int hours = 0;
    int minutes = 0;
    clock.shift = Clock::Shift::hours;
    if (!read_clock_part(cursor, "the hours of a time shift", 23, hours)) return false;
    if (cursor.take(':')) {
        clock.shift = Clock::Shift::hours_minutes;
        if (!read_clock_part(cursor, "the minutes of a time shift", 59, minutes)) return false;
    }
    clock.shift_minutes = (hours * 60 + minutes) * (behind ? -1 : 1);
    if (behind && clock.shift_minutes == 0) {
        return cursor.fail("edtf-clock", start, cursor.at() - start, "A time shift of nothing has no minus sign.",
                           "Write Z or +00:00.");
    }
    return true;
}

}  // namespace

bool read_clock(EdtfCursor& cursor, Clock& clock) {
    const std::size_t start = cursor.at();
    if (!read_clock_part(cursor, "an hour", 24, clock.hour)) return false;
    if (!cursor.take(':')) return cursor.fail_unexpected("a colon");
    if (!read_clock_part(cursor, "a minute", 59, clock.minute)) return false;
    if (!cursor.take(':')) return cursor.fail_unexpected("a colon");
    if (!read_clock_part(cursor, "a second", 59, clock.second)) return false;
    if (clock.hour == 24 && (clock.minute != 0 || clock.second != 0)) {
        return cursor.fail("edtf-clock", start, cursor.at() - start, "Nothing comes after 24:00:00 on one day.",
                           "Write the hour as 00 to 23.");
    }
    if (cursor.take('Z')) {
        clock.shift = Clock::Shift::utc;
        return true;
    }
    if (cursor.peek() == '+' || cursor.peek() == '-') return read_shift(cursor, clock);
    return true;
}

}  // namespace saggar::time
