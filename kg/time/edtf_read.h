// Reads EDTF, levels 0, 1 and 2: dates, intervals and sets.
//
// The reader goes through the text once, without recursion, and stops at the first error with its place, a reason and
// the next step. What the grammar allows but the calendar or the sense forbids is refused as well: days that do not
// exist, intervals and ranges that end before they start, intervals without any date. Source: Library of Congress,
// "Extended Date/Time Format (EDTF) Specification", 4 February 2019.
#pragma once

#include <string_view>

#include "kg/time/edtf.h"
#include "kg/time/read_error.h"

namespace saggar::time {

//   edtf     = date | interval | set
//   interval = end "/" end ; end = date | ".." | ""           at least one end is a date, no time of day
//   set      = "[" members "]" | "{" members "}"
//   members  = member { "," member }                          ".." only first in the set, or last
//   member   = date | date ".." date | ".." date | date ".."  both ends of a range have the same precision
// Cost: linear in the text. Thread-safe.
Read<Edtf> read_edtf(std::string_view text);

}  // namespace saggar::time
