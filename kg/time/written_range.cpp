#include "kg/time/written_range.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/time/bounds.h"
#include "kg/time/day.h"

namespace saggar::time {

namespace {

// The day as a date of that precision (seasons as days), with the qualifier on all components.
Date date_of_day(Day day, Precision precision, Qualifier qualifier) {
    const Civil civil = civil_of(day);
    Date date = date_of_year(static_cast<int>(civil.year));
    date.precision = precision == Precision::season ? Precision::day : precision;
    if (date.precision != Precision::year) {
        date.month = {static_cast<char>('0' + civil.month / 10), static_cast<char>('0' + civil.month % 10)};
    }
    if (date.precision == Precision::day) {
        date.day = {static_cast<char>('0' + civil.day / 10), static_cast<char>('0' + civil.day % 10)};
    }
    for (int i = 0; i < components(date); ++i) date.qualifiers[static_cast<std::size_t>(i)] = qualifier;
    return date;
}

void mark_all(Date& date, Qualifier qualifier) {
    for (int i = 0; i < components(date); ++i) date.qualifiers[static_cast<std::size_t>(i)] = qualifier;
}

// Puts the words around a point onto its dates.
void settle(WrittenPoint& point) {
    mark_all(point.first, point.before | point.after);
    mark_all(point.last, point.before | point.after);
}

// A mark before or after a whole range or choice covers every point of it; a mark inside it covers its own point.
void settle_all(std::vector<WrittenPoint>& points) {
    const Qualifier before = points.front().before;
    const Qualifier after = points.back().after;
    for (WrittenPoint& point : points) {
        if (point.before == Qualifier::none) point.before = before;
        if (point.after == Qualifier::none) point.after = after;
        settle(point);
    }
}

DayRange days_of_point(const WrittenPoint& point) {
    return {days_of(point.first)->first, days_of(point.last)->last};
}

Member member_of(const WrittenPoint& point) {
    if (!point.stretch) return {Member::Kind::single, point.first, {}};
    return {Member::Kind::range, point.first, point.last};
}

// The finer of two precisions, with seasons as days.
Precision finer(Precision a, Precision b) {
    if (a == Precision::season || b == Precision::season) return Precision::day;
    return std::max(a, b);
}

// One date from the first day of one point to the last day of the other: [a..b].
Edtf one_between(const WrittenPoint& a, const WrittenPoint& b) {
    const Precision precision = finer(a.first.precision, b.last.precision);
    Member member{Member::Kind::range, date_of_day(days_of_point(a).first, precision, a.first.qualifiers[0]),
                  date_of_day(days_of_point(b).last, precision, b.last.qualifiers[0])};
    return {DateSet{false, {member}}, 2};
}

Edtf run_between(const WrittenPoint& a, const WrittenPoint& b) {
    if (a.stretch || b.stretch) return one_between(a, b);
    return {Interval{{End::Kind::date, a.first}, {End::Kind::date, b.last}}, 1};
}

Edtf one_of(Member::Kind kind, const Date& date) {
    return {DateSet{false, {Member{kind, date, {}}}}, 2};
}

Edtf up_to(const WrittenPoint& point) {
    return one_of(Member::Kind::up_to, point.stretch ? point.last : point.first);
}

Edtf from(const WrittenPoint& point) {
    return one_of(Member::Kind::from, point.first);
}

// "before 1940": up to the year, month or day before it.
Edtf strictly_before(const WrittenPoint& point) {
    const Day day = plus_days(days_of_point(point).first, -1);
    return one_of(Member::Kind::up_to, date_of_day(day, point.first.precision, point.first.qualifiers[0]));
}

Edtf strictly_after(const WrittenPoint& point) {
    const Day day = plus_days(days_of_point(point).last, 1);
    return one_of(Member::Kind::from, date_of_day(day, point.last.precision, point.last.qualifiers[0]));
}

// Whether one point alone is meant; a month without a year is not a point.
bool read_full_point(WrittenCursor& cursor, WrittenPoint& point) {
    if (!read_point(cursor, point)) return false;
    if (point.year_missing) {
        return cursor.fail("written-no-year", point.offset, "The month has no year.",
                           "Write the year behind the month.");
    }
    settle(point);
    return true;
}

bool fail_order(WrittenCursor& cursor, const WrittenPoint& second) {
    return cursor.fail("written-order", second.offset, "The range ends before it starts.",
                       "Check the years; put the earlier one first.");
}

// A month without a year takes the year of the point behind it.
bool lend_year(WrittenCursor& cursor, WrittenPoint& point, const WrittenPoint& lender) {
    if (!point.year_missing) return true;
    if (lender.year_missing || lender.stretch || lender.decade) {
        return cursor.fail("written-no-year", point.offset, "The month has no year.",
                           "Write the year behind the month.");
    }
    point.first.year = lender.first.year;
    point.last.year = lender.first.year;
    point.year_missing = false;
    return true;
}

// The second point of a pair, and the marks of both settled.
bool read_pair(WrittenCursor& cursor, std::vector<WrittenPoint>& points) {
    WrittenPoint second;
    if (!read_second_point(cursor, points[0], second)) return false;
    if (!lend_year(cursor, points[0], second)) return false;
    if (second.year_missing) return lend_year(cursor, second, second);
    points.push_back(second);
    settle_all(points);
    if (days_of_point(points[1]).last < days_of_point(points[0]).first ||
        days_of_point(points[1]).first < days_of_point(points[0]).first) {
        return fail_order(cursor, second);
    }
    return true;
}

bool take_range_word(WrittenCursor& cursor) {
    return cursor.take_mark('-') || cursor.take_mark('/') || cursor.take_word("to") || cursor.take_word("until") ||
           cursor.take_word("till") || cursor.take_word("through");
}

bool read_between(WrittenCursor& cursor, Edtf& edtf) {
    std::vector<WrittenPoint> points(1);
    if (!read_point(cursor, points[0])) return false;
    if (!cursor.take_word("and") && !cursor.take_word("to") && !cursor.take_mark('-')) return cursor.fail_here();
    if (!read_pair(cursor, points)) return false;
    edtf = one_between(points[0], points[1]);
    return true;
}

bool take_onwards(WrittenCursor& cursor) {
    return cursor.take_word("on") || cursor.take_word("onward") || cursor.take_word("onwards");
}

// Behind "from" or "since".
bool read_from(WrittenCursor& cursor, Edtf& edtf) {
    std::vector<WrittenPoint> points(1);
    if (!read_point(cursor, points[0])) return false;
    if (take_range_word(cursor)) {
        if (!read_pair(cursor, points)) return false;
        edtf = run_between(points[0], points[1]);
        return true;
    }
    if (!lend_year(cursor, points[0], points[0])) return false;
    settle(points[0]);
    take_onwards(cursor);
    edtf = points[0].stretch ? from(points[0])
                             : Edtf{Interval{{End::Kind::date, points[0].first}, {End::Kind::open, {}}}, 1};
    return true;
}

bool read_until(WrittenCursor& cursor, Edtf& edtf) {
    WrittenPoint point;
    if (!read_full_point(cursor, point)) return false;
    edtf = point.stretch ? up_to(point) : Edtf{Interval{{End::Kind::open, {}}, {End::Kind::date, point.first}}, 1};
    return true;
}

using Limit = Edtf (*)(const WrittenPoint&);

// The words that set a limit in front of a point; null: none stands here (nothing is taken then).
Limit take_limit_words(WrittenCursor& cursor) {
    const std::size_t start = cursor.index();
    if (cursor.take_word("before")) return strictly_before;
    if (cursor.take_word("after")) return strictly_after;
    if (cursor.take_word("by")) return up_to;
    if (cursor.take_word("pre") && cursor.take_mark('-')) return strictly_before;
    cursor.go_to(start);
    if (cursor.take_word("post") && cursor.take_mark('-')) return strictly_after;
    cursor.go_to(start);
    if (cursor.take_word("prior") && cursor.take_word("to")) return strictly_before;
    cursor.go_to(start);
    if (cursor.take_word("not")) {
        if (cursor.take_word("before")) return from;
        if (cursor.take_word("after")) return up_to;
    }
    cursor.go_to(start);
    if (cursor.take_word("not") || cursor.take_word("no")) {
        const bool earlier = cursor.take_word("earlier");
        const bool later = !earlier && cursor.take_word("later");
        if ((earlier || later) && cursor.take_word("than")) return earlier ? from : up_to;
    }
    cursor.go_to(start);
    return nullptr;
}

bool read_choice(WrittenCursor& cursor, std::vector<WrittenPoint>& points, Edtf& edtf) {
    do {
        WrittenPoint next;
        if (!read_second_point(cursor, points.front(), next)) return false;
        points.push_back(next);
    } while (cursor.take_word("or"));
    for (WrittenPoint& point : points) {
        if (!lend_year(cursor, point, points.back())) return false;
    }
    settle_all(points);
    DateSet set;
    for (const WrittenPoint& point : points) set.members.push_back(member_of(point));
    edtf = {std::move(set), 2};
    return true;
}

// Behind a point: ", 1937 and 1940". The cursor does not move unless another point follows the comma or "and".
bool read_list(WrittenCursor& cursor, std::vector<WrittenPoint>& points, Edtf& edtf, bool& done) {
    done = false;
    for (;;) {
        const std::size_t start = cursor.index();
        cursor.take_mark(',');
        cursor.take_word("and");
        if (cursor.index() == start || !point_can_start(cursor)) {
            cursor.go_to(start);
            break;
        }
        WrittenPoint next;
        if (!read_point(cursor, next)) return false;
        points.push_back(next);
    }
    if (points.size() == 1) return true;
    for (WrittenPoint& point : points) {
        if (!lend_year(cursor, point, points.back())) return false;
        settle(point);
    }
    DateSet set;
    set.all = true;
    for (const WrittenPoint& point : points) set.members.push_back(member_of(point));
    edtf = {std::move(set), 2};
    done = true;
    return true;
}

bool open_end_follows(WrittenCursor& cursor) {
    if (take_onwards(cursor)) return true;
    const WrittenToken& behind = cursor.peek(1);
    const bool nothing_behind = behind.kind == WrittenToken::Kind::end || behind.is_mark(';') || behind.is_mark('(') ||
                                behind.is_mark(']') || behind.is_mark(',');
    return cursor.peek().is_mark('-') && nothing_behind && cursor.take_mark('-');
}

// "1940 or earlier", "1940 or later".
Limit take_or_limit(WrittenCursor& cursor) {
    const std::size_t start = cursor.index();
    if (cursor.take_word("or")) {
        if (cursor.take_word("earlier") || cursor.take_word("before")) return up_to;
        if (cursor.take_word("later") || cursor.take_word("after")) return from;
    }
    cursor.go_to(start);
    return nullptr;
}

bool read_single(WrittenCursor& cursor, WrittenPoint& point, Edtf& edtf) {
    if (!lend_year(cursor, point, point)) return false;
    settle(point);
    if (open_end_follows(cursor)) {
        edtf = point.stretch ? from(point) : Edtf{Interval{{End::Kind::date, point.first}, {End::Kind::open, {}}}, 1};
        return true;
    }
    if (const Limit limit = take_or_limit(cursor)) {
        edtf = limit(point);
        return true;
    }
    edtf = point.stretch ? one_between(point, point) : Edtf{point.first, 0};
    return true;
}

// Starts with a point and not with a word such as "before".
bool read_plain(WrittenCursor& cursor, Edtf& edtf) {
    std::vector<WrittenPoint> points(1);
    if (!read_point(cursor, points[0])) return false;
    const WrittenToken& behind = cursor.peek(1);
    const bool dash_ends = cursor.peek().is_mark('-') && behind.kind != WrittenToken::Kind::number &&
                           behind.kind != WrittenToken::Kind::word && !behind.is_mark('?');
    if (cursor.peek().is_mark('/') && behind.is_number(2) && behind.value() >= 1 && behind.value() <= 12) {
        cursor.advance(2);
        return cursor.fail("written-ambiguous", points[0].offset, "Behind the stroke may stand a year or a month.",
                           "Write both years with four digits, or the month by name.");
    }
    if (!dash_ends && take_range_word(cursor)) {
        if (!read_pair(cursor, points)) return false;
        edtf = run_between(points[0], points[1]);
        return true;
    }
    const std::size_t before_or = cursor.index();
    if (cursor.take_word("or") && point_can_start(cursor)) return read_choice(cursor, points, edtf);
    cursor.go_to(before_or);
    bool done = false;
    if (!read_list(cursor, points, edtf, done)) return false;
    return done || read_single(cursor, points[0], edtf);
}

}  // namespace

bool range_can_start(const WrittenCursor& cursor) {
    static constexpr std::string_view words[] = {"between", "from", "since", "until", "till",  "up",  "to", "before",
                                                 "after",   "by",   "pre",   "post",  "prior", "not", "no", "in"};
    const WrittenToken& token = cursor.peek();
    if (token.kind == WrittenToken::Kind::word &&
        std::find(std::begin(words), std::end(words), token.text) != std::end(words)) {
        return true;
    }
    return point_can_start(cursor);
}

bool read_written_range(WrittenCursor& cursor, Edtf& edtf) {
    cursor.take_word("in");
    if (cursor.take_word("between")) return read_between(cursor, edtf);
    if (cursor.take_word("from") || cursor.take_word("since")) return read_from(cursor, edtf);
    const std::size_t start = cursor.index();
    if (cursor.take_word("up") && !cursor.peek().is_word("to")) {
        cursor.go_to(start);
        return cursor.fail_here();
    }
    if (cursor.take_word("until") || cursor.take_word("till") || cursor.take_word("to"))
        return read_until(cursor, edtf);
    if (const Limit limit = take_limit_words(cursor)) {
        WrittenPoint point;
        if (!read_full_point(cursor, point)) return false;
        edtf = limit(point);
        return true;
    }
    return read_plain(cursor, edtf);
}

}  // namespace saggar::time
