// Reads one EDTF date, with its qualifiers and perhaps a time of day. The parts of edtf_read.h that meet at a Date.
#pragma once

#include "kg/time/edtf.h"
#include "kg/time/edtf_cursor.h"

namespace saggar::time {

// Reads the date at the finger and stops behind it (what follows is the caller's business). Checks that the date exists
// in the calendar. False: the cursor holds the error.
//   date  = [q] year [q] [ "-" [q] month [q] [ "-" [q] day [q] [ "T" clock ] ] ]
//   q     = "?" | "~" | "%"
bool read_date(EdtfCursor& cursor, Date& date);

// year = [ "-" ] 4 ( digit | "X" ) [ "S" number ] | "Y" [ "-" ] number [ "E" number ] [ "S" number ]
// (edtf_year_read.cpp)
bool read_year(EdtfCursor& cursor, Year& year);
// clock = hh ":" mm ":" ss [ "Z" | sign hh [ ":" mm ] ], after its "T" (edtf_clock_read.cpp)
bool read_clock(EdtfCursor& cursor, Clock& clock);

}  // namespace saggar::time
