// A trace as JSON, in the documented shape (app/schema/trace.json): from, to, paths, joint, band.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/trace.h"

namespace saggar {

// The snapshot is the one the trace was asked of. With `with_private` false, private evidence is left out.
nlohmann::json to_json(const TraceAnswer& answer, const Snapshot& snapshot, bool with_private = true);

// The joint figures alone, for sets of claims.
nlohmann::json to_json(const JointWeight& joint, const Snapshot& snapshot, bool with_private);

}  // namespace saggar
