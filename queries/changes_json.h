// Changes as JSON, in the documented shape (app/schema/changes.json).
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "queries/changes.h"

namespace saggar {

class Privacy;

// `after` is the later of the two snapshots compared; claims that are private are counted only.
nlohmann::json to_json(const ChangesAnswer& answer, const Snapshot& before, const Snapshot& after, bool with_private);

// "added", "withdrawn", "joined", "left", "described", "document".
std::string word_for(ChangeCause::What what);

}  // namespace saggar
