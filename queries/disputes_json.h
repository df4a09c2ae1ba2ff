// Disputes and rulings as JSON, in the documented shape (app/schema/disputes.json).
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/disputes.h"

namespace saggar {

class Privacy;

// The snapshot is the one the disputes were asked of. Private readings are left out unless `privacy` shows them.
nlohmann::json to_json(const DisputesAnswer& answer, const Snapshot& snapshot, Privacy& privacy);
nlohmann::json to_json(const RulingStanding& standing, const Snapshot& snapshot, Privacy& privacy);

}  // namespace saggar
