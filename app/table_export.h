// The graph as it stands as our own three tables, with CSVW metadata beside them.
#pragma once

#include <filesystem>

#include "app/verb.h"
#include "kg/store/snapshot.h"

namespace saggar::app {

// Writes entities.csv, sources.csv, claims.csv and NAME.csv-metadata.json into `target`, which must not exist or be empty,
// and says on call.err what tables cannot hold. Private records stay out unless asked for.
void export_tables(const Call& call, const Snapshot& graph, const std::filesystem::path& target);

}  // namespace saggar::app
