// What a merge did, as text and as JSON.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "app/verb.h"
#include "importers/merge/merge.h"

namespace saggar::app {

// `graph`: after the merge, or before it where nothing was kept. `conflicts`: claims newly in conflict, by content id.
struct MergeTold {
    const MergeReport& report;
    const std::string& name;
    bool dry_run = false;
    const Snapshot& graph;
    const std::vector<std::vector<ContentId>>& conflicts;
};

void write_merge(Call& call, const MergeTold& told);
nlohmann::json merge_as_json(const Call& call, const MergeTold& told);

}  // namespace saggar::app
