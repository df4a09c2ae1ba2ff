// A comparison as JSON, in the documented shape (app/schema/compare.json).
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/compare.h"

namespace saggar {

// Every cell with its masses, claims and the readings and lists it stands on. The snapshot is the one that was asked.
nlohmann::json to_json(const CompareAnswer& answer, const Snapshot& snapshot, bool with_private);

}  // namespace saggar
