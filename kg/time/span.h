// The short way from a date in a record to days: the outermost span it allows, and whether two spans can meet.
//
//   auto made = read_span("1931~/1934~", {.about = 5});
//   if (made && disjoint(*made, other)) …        // no day is in both
#pragma once

#include <string_view>

#include "kg/time/bounds.h"
#include "kg/time/read_error.h"

namespace saggar::time {

// From the earliest possible day to the latest possible one, both included. before_all or after_all: no limit on that
// side.
struct Span {
    Day earliest = before_all;
    Day latest = after_all;
    bool uncertain = false;    // a "?" or "%" stands somewhere in the date: its author was not sure of it
    bool approximate = false;  // a "~" or "%" stands somewhere in the date
    bool operator==(const Span&) const = default;
};

// Open and unknown ends give no limit.
Span span_of(const Edtf& edtf, const Conventions& conventions = {});
Read<Span> read_span(std::string_view edtf, const Conventions& conventions = {});

// True: no day is in both spans, even if their gap shrinks by the tolerance in whole calendar years. Touching is not
// disjoint. The tolerance counts once, for the pair; where each has its own ("about" of its own source), widen each by
// Conventions::about.
bool disjoint(const Span& a, const Span& b, int tolerance_years = 0);
inline bool overlap(const Span& a, const Span& b, int tolerance_years = 0) {
    return !disjoint(a, b, tolerance_years);
}

// Moves both limits outwards by whole calendar years.
Span widen(const Span& span, int years);
// The days in both; only meaningful when they overlap without tolerance.
Span common(const Span& a, const Span& b);

// "1931-01-01 to 1934-12-31", "not before 1931-01-01", "not after 1934-12-31", "any time".
std::string to_text(const Span& span);

}  // namespace saggar::time
