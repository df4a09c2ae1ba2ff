// A bag that holds a graph: data/graph.jsonl and its pictures, data/media/HASH with or without an ending.
//
// The bag is checked first (bag_check.h); nothing is read from one that is not valid.
#pragma once

#include <filesystem>

#include "importers/sink.h"
#include "importers/text_input.h"

namespace saggar {

inline constexpr std::string_view bag_graph_path = "data/graph.jsonl";
inline constexpr std::string_view bag_media_start = "data/media/";

// `name` is what problems call the folder.
void read_bag(const std::filesystem::path& folder, const std::string& name, const TextLimits& limits, Sink& sink,
              Problems& problems);

}  // namespace saggar
