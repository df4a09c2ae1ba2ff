// Parts of decades and centuries in written dates: "early 1950s", "late 19th century", "second half of the 1930s".
//
// The standard has no such parts; what they mean is a convention, stated at WrittenPart and in WRITTEN.md.
#pragma once

#include "kg/time/written_point.h"

namespace saggar::time {

// Early, mid and late are the years 0-3, 4-6 and 7-9 of a decade, and thirds of a century (1801-1833, 1834-1866,
// 1867-1900).
struct WrittenPart {
    enum class Kind : std::uint8_t { whole, early, mid, late, ordinal };
    Kind kind = Kind::whole;
    int number = 0;  // ordinal: 1 to 4
    int of = 0;      // ordinal: 2 halves, 3 thirds, 4 quarters
    std::size_t offset = 0;
};

// Reads the words that name a part, if there are any.
bool read_written_part(WrittenCursor& cursor, WrittenPart& part);

// Ten years from `first_year`, or a part of them. False: they cannot be cut so, and the cursor holds the error.
bool set_decade(WrittenCursor& cursor, WrittenPoint& point, int first_year, const WrittenPart& part);
// The 19th century is 1801 to 1900.
bool set_century(WrittenPoint& point, int century, const WrittenPart& part);

void set_single(WrittenPoint& point, const Date& date);
// "st", "nd", "rd" or "th" right behind a number.
bool is_ordinal_ending(const WrittenToken& token);

}  // namespace saggar::time
