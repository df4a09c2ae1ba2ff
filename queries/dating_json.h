// A dating as JSON, in the documented shape (app/schema/date.json): key, earliest, latest, bounds, contradiction, years.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/dating.h"
#include "queries/dating_years.h"

namespace saggar {

// The snapshot is the one the question was asked of. `years` may be empty (then "years" is []). With `with_private` false
// the answer must have been asked without private claims.
nlohmann::json to_json(const DatingAnswer& answer, const DatingYears& years, const Snapshot& snapshot);

}  // namespace saggar
