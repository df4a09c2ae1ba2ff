// An identification as JSON, in the documented shape (app/schema/identify.json).
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/identify.h"

namespace saggar {

class Profile;

// `most`: candidates given; all that are excluded are. The snapshot is the one that was asked.
nlohmann::json to_json(const IdentifyAnswer& answer, const IdentifyQuestion& question, const Snapshot& snapshot,
                       const Profile& profile, std::size_t most);

}  // namespace saggar
