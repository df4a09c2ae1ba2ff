// A whole written date without labels: one point, a range, a choice, or "before" and "after". For written.h only.
#pragma once

#include "kg/time/edtf.h"
#include "kg/time/written_point.h"

namespace saggar::time {

// Reads from the cursor as far as the date goes. False: the cursor holds the error.
bool read_written_range(WrittenCursor& cursor, Edtf& edtf);
// Whether such a date can start here.
bool range_can_start(const WrittenCursor& cursor);

}  // namespace saggar::time
