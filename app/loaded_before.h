// Whether a file was loaded before as it stands, and what became of it.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

#include "importers/reader.h"
#include "kg/store/snapshot.h"

namespace saggar::app {

// The digest of everything that decides what a load brings: the file, its metadata, the options. A bag is told by its manifests,
// which name every byte of it. Other folders have none: loading them again finds nothing new. UsageFault where a file cannot be read.
std::optional<ContentId> load_digest(const std::filesystem::path& path, const ReadOptions& options);

// What became of the claims, readings, lists, arguments and rulings of an entry.
struct EntryStanding {
    std::uint64_t standing = 0;
    std::uint64_t taken_back = 0;
    bool none_stands() const { return taken_back != 0 && standing == 0; }
};
// Cost: one pass over the graph, and nothing where no later entry withdrew anything.
EntryStanding entry_standing(const Snapshot& graph, std::uint64_t entry);

}  // namespace saggar::app
