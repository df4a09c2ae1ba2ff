// An EDTF date in the words of a note: "4 March 1934", "ca. 1935", "1936–1944", "spring 1948", "1930s".
//
// Qualifiers follow the Chicago Manual of Style, 17th ed.: "ca." before an approximate date, "?" after an uncertain
// one, "n.d." for no date, en dash between the ends of a range. What has no such form is given as it was written.
#pragma once

#include <string>
#include <string_view>

#include "kg/time/day.h"

namespace saggar {

enum class DateOrder {
    day_month,  // 4 March 1934
    month_day,  // March 4, 1934
};

// `edtf` may be any text; what is not EDTF comes back unchanged. Empty gives empty.
std::string date_in_words(std::string_view edtf, DateOrder order = DateOrder::day_month);

// True where every year of `edtf` is named in `title` and the date says no more than years, or where the title holds
// the date's own words: then a note need not give the date again.
bool title_tells_date(std::string_view title, std::string_view edtf);

// When something was, from the first and the last day it may have been: "in January 1939", "not before February 1951,
// not after 1955", "not known". A day is only given where the month or year it begins or ends does not say it.
std::string range_in_words(time::Day earliest, time::Day latest, DateOrder order = DateOrder::day_month);

}  // namespace saggar
