// A day as a number on an axis of years: 1 July 1939 is about 1939.5.
#pragma once

#include "kg/time/day.h"

namespace saggar::viz {

// Where the day begins, or ends, in years; infinite where the day is a limit.
double decimal_year(time::Day day, bool end_of_day);

}  // namespace saggar::viz
