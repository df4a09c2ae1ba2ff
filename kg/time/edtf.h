// EDTF expressions as values: what a date, an interval or a set says, component by component.
//
// Library of Congress, "Extended Date/Time Format (EDTF) Specification", 4 February 2019; the same as ISO 8601-2:2019,
// Annex A. Read them with edtf_read.h, write them with edtf_write.h, turn them into days with bounds.h.
// Plain values: no ownership, no sharing, safe to copy between threads.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

namespace saggar::time {

// "?" uncertain, "~" approximate, "%" both. A set of two flags.
enum class Qualifier : std::uint8_t { none = 0, uncertain = 1, approximate = 2, both = 3 };
inline Qualifier operator|(Qualifier a, Qualifier b) {
    return static_cast<Qualifier>(static_cast<int>(a) | static_cast<int>(b));
}
inline bool has(Qualifier all, Qualifier one) {
    return (static_cast<int>(all) & static_cast<int>(one)) != 0;
}

struct Year {
    enum class Form : std::uint8_t {
        four_digits,  // 1985, -0043, 19XX
        letter,       // Y170000002
        exponential,  // Y-17E7
    };
    Form form = Form::four_digits;
    bool negative = false;
    std::array<char, 4> digits{'0', '0', '0', '0'};  // four_digits: digits, or 'X' where unspecified
    std::int64_t number = 0;                         // letter, exponential: the integer after "Y", without its sign
    int exponent = 0;                                // exponential: after "E"
    int significant = 0;                             // after "S"; 0: not written
    bool operator==(const Year&) const = default;
};

// A month or a day as written: two digits, either of them 'X' where unspecified.
struct TwoDigits {
    char tens = '0';
    char units = '0';
    bool has_x() const { return tens == 'X' || units == 'X'; }
    bool admits(int number) const {
        return (tens == 'X' || tens - '0' == number / 10) && (units == 'X' || units - '0' == number % 10);
    }
    // The number; meaningful only without X.
    int number() const { return (tens - '0') * 10 + (units - '0'); }
    bool operator==(const TwoDigits&) const = default;
};

// The finest component that was written. A season, quarter, third or half (21 to 41) stands in place of the month.
enum class Precision : std::uint8_t { year, season, month, day };

struct Clock {
    enum class Shift : std::uint8_t { local, utc, hours, hours_minutes };
    int hour = 0;
    int minute = 0;
    int second = 0;
    Shift shift = Shift::local;
    int shift_minutes = 0;  // signed, ahead of UTC
    bool operator==(const Clock&) const = default;
};

struct Date {
    Precision precision = Precision::year;
    Year year;
    TwoDigits month;  // month or season code
    TwoDigits day;
    std::array<Qualifier, 3> qualifiers{};  // of year, month, day
    std::optional<Clock> clock;             // only with a plain complete day
    bool operator==(const Date&) const = default;
};

// How many components the date has: 1 to 3.
inline int components(const Date& date) {
    return date.precision == Precision::year ? 1 : date.precision == Precision::day ? 3 : 2;
}

struct End {
    enum class Kind : std::uint8_t {
        date,
        open,     // ".."
        unknown,  // nothing written
    };
    Kind kind = Kind::date;
    Date date;
    bool operator==(const End&) const = default;
};

struct Interval {
    End start;
    End end;
    bool operator==(const Interval&) const = default;
};

struct Member {
    enum class Kind : std::uint8_t {
        single,  // first
        range,   // first..last
        up_to,   // ..first
        from,    // first..
    };
    Kind kind = Kind::single;
    Date first;
    Date last;
    bool operator==(const Member&) const = default;
};

struct DateSet {
    bool all = false;  // true: "{ }" all of them; false: "[ ]" one of them
    std::vector<Member> members;
    bool operator==(const DateSet&) const = default;
};

struct Edtf {
    std::variant<Date, Interval, DateSet> value;
    int level = 0;  // conformance level 0, 1 or 2 that the text needs as it was written
    // Same meaning component by component; the level is a property of the spelling and does not count.
    bool operator==(const Edtf& other) const { return value == other.value; }
};

}  // namespace saggar::time
