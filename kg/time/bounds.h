// From an EDTF expression to days: the earliest and latest start and end that it allows.
//
// A date says "some time in it": it may start and end on any day it admits. So 1985 has the bounds of 1985/1985, and
// 156X the bounds of [1560..1569]. A set "one of" is one such date; a set "all of" starts in its first and ends in its
// last member. Time of day and time shift do not move the day: the day is the one written.
// Cost: O(1) for a date or interval, O(members) for a set.
#pragma once

#include <optional>

#include "kg/time/day.h"
#include "kg/time/edtf.h"

namespace saggar::time {

enum class Hemisphere : std::uint8_t { north, south };

// The year of the season that straddles New Year (winter in the north, summer in the south).
enum class SeasonYear : std::uint8_t {
    begins,  // winter 1948: December 1948 to February 1949
    ends,    // winter 1948: December 1947 to February 1948
    either,  // winter 1948: December 1947 to February 1949
};

// What the standard leaves open. These are conventions; whoever shows a bound names them.
struct Conventions {
    // Seasons 21-24. Spring is March to May in the north, September to November in the south, and so on by three
    // months.
    Hemisphere hemisphere = Hemisphere::north;
    SeasonYear season_year = SeasonYear::begins;
    // How far "about" (~ or %) reaches on either side, counted in the unit the approximate date was written in: with 5,
    // 1935~ reaches five years, 1935-04~ five months, 1935-04-12~ five days, and 1935-21~ five seasons. Not negative.
    int about = 0;
};

struct Bound {
    enum class Kind : std::uint8_t { day, open, unknown };
    Kind kind = Kind::day;
    // A day; for open and unknown ends the outermost day that the other bounds leave possible (often before_all,
    // after_all).
    Day day;
    bool operator==(const Bound&) const = default;
};

struct Bounds {
    Bound earliest_start;
    Bound latest_start;
    Bound earliest_end;
    Bound latest_end;
    bool operator==(const Bounds&) const = default;
};

struct DayRange {
    Day first;
    Day last;
    bool operator==(const DayRange&) const = default;
};

// First and last day that one date admits, without any widening. Empty: no such day exists (31 June, 1901-02-29).
std::optional<DayRange> days_of(const Date& date, const Conventions& conventions = {});

// The four bounds. The expression must be one that edtf_read accepts (all its dates exist).
Bounds bounds_of(const Edtf& edtf, const Conventions& conventions = {});

// Moves every bound outwards by whole calendar years.
Bounds widen(const Bounds& bounds, int years);

}  // namespace saggar::time
