#include "kg/time/edtf_read.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/time/bounds.h"
#include "kg/time/edtf_date_read.h"

namespace saggar::time {

namespace {

// Reads a date where none may have a time of day.
bool read_date_without_clock(EdtfCursor& cursor, Date& date) {
    const std::size_t start = cursor.at();
    if (!read_date(cursor, date)) return false;
    if (!date.clock) return true;
    const std::size_t clock_start = cursor.text().find('T', start);
    return cursor.fail("edtf-clock", clock_start, cursor.at() - clock_start,
                       "A time of day cannot stand in an interval or a set.", "Leave the time out.");
}

bool read_end(EdtfCursor& cursor, End& end) {
    if (cursor.take("..")) {
        end.kind = End::Kind::open;
        return true;
    }
    end.kind = End::Kind::date;
    return read_date_without_clock(cursor, end.date);
}

bool has_x(const Date& date) {
    const auto& digits = date.year.digits;
    return std::find(digits.begin(), digits.end(), 'X') != digits.end() || date.month.has_x() || date.day.has_x();
}

// Level 0 has two dates; level 1 adds open, unknown and qualified ends; X in an end needs level 2.
int level_of(const Interval& interval) {
    int level = 0;
    for (const End* end : {&interval.start, &interval.end}) {
        level = std::max(level, end->kind != End::Kind::date ? 1 : has_x(end->date) ? 2 : 0);
    }
    return level;
}

bool ends_before_it_starts(const Date& start, const Date& end) {
    const auto first = days_of(start);
    const auto last = days_of(end);
    return first && last && last->last < first->first;
}

// The finger stands behind the start, on the "/".
bool read_rest_of_interval(EdtfCursor& cursor, Interval& interval) {
    cursor.advance();
    const std::size_t start = cursor.at();
    if (cursor.at_end()) {
        interval.end.kind = End::Kind::unknown;
    } else if (cursor.peek() == '/') {
        return cursor.fail("edtf-interval", start, 1, "An interval has one \"/\" only.",
                           "Keep the first and the last date.");
    } else if (!read_end(cursor, interval.end)) {
        return false;
    }
    cursor.level = std::max(cursor.level, level_of(interval));
    if (interval.start.kind != End::Kind::date && interval.end.kind != End::Kind::date) {
        return cursor.fail("edtf-interval", 0, cursor.at(), "An interval needs a date at one end at least.",
                           "Leave the date empty if neither end is known.");
    }
    if (interval.start.kind == End::Kind::date && interval.end.kind == End::Kind::date &&
        ends_before_it_starts(interval.start.date, interval.end.date)) {
        return cursor.fail("edtf-order", start, cursor.at() - start, "The interval ends before it starts.",
                           "Put the earlier date first.");
    }
    return true;
}

bool read_range(EdtfCursor& cursor, Member& member) {
    member.kind = Member::Kind::range;
    const std::size_t start = cursor.at();
    if (!read_date_without_clock(cursor, member.last)) return false;
    if (member.first.precision != member.last.precision) {
        return cursor.fail("edtf-precision", start, cursor.at() - start,
                           "Both ends of a range in a set have the same precision.",
                           "Write both as years, both as months or both as days.");
    }
    if (ends_before_it_starts(member.first, member.last)) {
        return cursor.fail("edtf-order", start, cursor.at() - start, "The range ends before it starts.",
                           "Put the earlier date first.");
    }
    return true;
}

bool read_member(EdtfCursor& cursor, bool is_first, Member& member) {
    if (cursor.peek() == '.' && cursor.peek(1) == '.') {
        if (!is_first) {
            return cursor.fail("edtf-set", cursor.at(), 2,
                               "\"..\" without an earlier date stands only at the start of a set.",
                               "Move it to the start.");
        }
        cursor.advance(2);
        member.kind = Member::Kind::up_to;
        return read_date_without_clock(cursor, member.first);
    }
    if (!read_date_without_clock(cursor, member.first)) return false;
    if (!cursor.take("..")) return true;
    if (cursor.peek() == ',') {
        return cursor.fail("edtf-set", cursor.at() - 2, 2,
                           "\"..\" without a later date stands only at the end of a set.", "Move it to the end.");
    }
    if (cursor.peek() == ']' || cursor.peek() == '}') {
        member.kind = Member::Kind::from;
        return true;
    }
    return read_range(cursor, member);
}

bool read_set(EdtfCursor& cursor, DateSet& set) {
    set.all = cursor.peek() == '{';
    const char close = set.all ? '}' : ']';
    cursor.advance();
    cursor.level = 2;
    do {
        Member member;
        if (!read_member(cursor, set.members.empty(), member)) return false;
        set.members.push_back(member);
    } while (cursor.take(','));
    if (!cursor.take(close)) {
        return cursor.fail_unexpected(fmt::format("a comma or \"{}\"", close));
    }
    return true;
}

bool read_date_or_interval(EdtfCursor& cursor, Edtf& edtf) {
    Interval interval;
    if (cursor.peek() == '/') {
        interval.start.kind = End::Kind::unknown;
    } else if (cursor.take("..")) {
        interval.start.kind = End::Kind::open;
        if (cursor.peek() != '/') return cursor.fail_unexpected("\"/\"");
    } else {
        Date date;
        if (!read_date(cursor, date)) return false;
        if (cursor.peek() != '/') {
            edtf.value = date;
            return true;
        }
        if (date.clock) {
            const std::size_t clock_start = cursor.text().find('T');
            return cursor.fail("edtf-clock", clock_start, cursor.at() - clock_start,
                               "A time of day cannot stand in an interval or a set.", "Leave the time out.");
        }
        interval.start.date = date;
    }
    if (!read_rest_of_interval(cursor, interval)) return false;
    edtf.value = interval;
    return true;
}

bool read_expression(EdtfCursor& cursor, Edtf& edtf) {
    if (cursor.at_end()) {
        return cursor.fail("edtf-empty", 0, 0, "The date is empty.", "Leave the whole field out, or write a date.");
    }
    if (cursor.peek() == '[' || cursor.peek() == '{') {
        DateSet set;
        if (!read_set(cursor, set)) return false;
        edtf.value = std::move(set);
    } else if (!read_date_or_interval(cursor, edtf)) {
        return false;
    }
    if (cursor.at_end()) return true;
    return cursor.fail_unexpected("the end of the date");
}

}  // namespace

Read<Edtf> read_edtf(std::string_view text) {
    EdtfCursor cursor(text);
    Edtf edtf;
    if (!read_expression(cursor, edtf)) return {std::nullopt, *cursor.error()};
    edtf.level = cursor.level;
    return {std::move(edtf), {}};
}

}  // namespace saggar::time
