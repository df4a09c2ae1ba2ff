// The graph as a bag (RFC 8493): its JSON Lines, its pictures, and a page to read.
#pragma once

#include <filesystem>

#include "app/verb.h"
#include "kg/store/snapshot.h"

namespace saggar::app {

// Writes data/graph.jsonl, data/media/ and data/index.html and says so on call.err. Private records and their pictures stay
// out unless asked for.
void export_bag(const Call& call, const Snapshot& graph, const std::filesystem::path& graph_folder,
                const std::filesystem::path& target);

}  // namespace saggar::app
