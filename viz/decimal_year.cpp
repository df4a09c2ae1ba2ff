#include "viz/decimal_year.h"

#include <limits>

namespace saggar::viz {

double decimal_year(time::Day day, bool end_of_day) {
    constexpr double kOpen = std::numeric_limits<double>::infinity();
    if (day == time::before_all) return -kOpen;
    if (day == time::after_all) return kOpen;
    const auto civil = time::civil_of(day);
    const auto first = time::day_of({civil.year, 1, 1}).count, next = time::day_of({civil.year + 1, 1, 1}).count;
    return static_cast<double>(civil.year) +
           static_cast<double>(day.count - first + (end_of_day ? 1 : 0)) / static_cast<double>(next - first);
}

}  // namespace saggar::viz
