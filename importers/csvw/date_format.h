// Dates and times in cells: the lexical forms of XML Schema 1.1 part 2, and the patterns of the CSVW model,
// section 6.4.4.
//
//   date     = yyyy-MM-dd yyyyMMdd dd-MM-yyyy d-M-yyyy MM-dd-yyyy M-d-yyyy, and the last four with / or . between
//   time     = HH:mm:ss[.S*] HHmmss[.S*] HH:mm HHmm
//   datetime = date ("T" | " ") time;  each perhaps followed by [" "] and x, xx, xxx, X, XX or XXX for the time zone
//
// What is read is written in the lexical form of XML Schema, which is also EDTF for dates, years, months and date-times
// with whole seconds. No recursion, linear.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace saggar::csvw {

enum class DateType : std::uint8_t { date, date_time, date_time_stamp, time, year, year_month, month, month_day, day };

struct ReadDate {
    std::string text;       // in the form of XML Schema
    long double order = 0;  // seconds on one time line, UTC where a zone is given; for comparing with bounds
};

// Whether this is a pattern for the type.
bool is_date_pattern(std::string_view pattern, DateType type);

// Reads after `pattern`, or after XML Schema where it is empty. Nothing where the text is not such a date, or no such
// day exists; `why` says so.
std::optional<ReadDate> read_date(std::string_view text, DateType type, std::string_view pattern, std::string& why);

}  // namespace saggar::csvw
