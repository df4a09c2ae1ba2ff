// Values of CSL-JSON as Source::more keeps them: names and dates as JSON text, or as a person wrote them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "queries/cite_name.h"

namespace saggar {

// [{"family": "Orme", "given": "Jon"}, {"literal": "Works Office"}], or "Orme, Jon; Pell, Kit".
std::vector<CitedName> csl_names(std::string_view value);

// {"date-parts": [[2021, 5, 3]]} -> "2021-05-03"; with "circa" "2021~"; two parts an interval; {"raw": …},
// {"literal": …} and plain text as they stand.
std::string csl_date(std::string_view value);

}  // namespace saggar
