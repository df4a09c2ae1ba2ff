// Which claims exclude each other, and what a list covers.
//
// Two claims of one subject under an at-most-one relation are rivals when their objects differ and their scopes and
// times overlap. No scope means everywhere, no time means any. Dates are sets of days (R10): two dated objects exclude
// each other only when the days they allow, widened by what "about" means to their sources, are disjoint. A list speaks
// for the claims that lie wholly inside its scope and time, and for nothing else (R7).
#pragma once

#include <optional>
#include <string>

#include "kg/store/rows.h"
#include "kg/time/span.h"

namespace saggar {

// The days an EDTF text allows; nothing where it is empty or cannot be read.
std::optional<time::Span> days_of_text(const std::string& edtf, int about_years);

bool scopes_overlap(const ClaimRow& a, const ClaimRow& b, int about_years);

// Whether the objects exclude each other; `about_a`, `about_b`: what "about" means to the sources of each.
bool objects_exclude(const ClaimRow& a, int about_a, const ClaimRow& b, int about_b);

bool same_object(const ClaimRow& a, const ClaimRow& b);

// Whether the claim lies inside the list's scope and time.
bool list_covers(const ListingRow& list, const ClaimRow& claim, int about_years);

}  // namespace saggar
