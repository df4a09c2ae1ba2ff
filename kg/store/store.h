// A graph folder: opening it, reading it, changing it.
//
//   DIR/db/        the RocksDB database (layout: keys.h)
//   DIR/media/     photographs by content hash
//   DIR/incoming/  files of a bulk load that is under way; emptied when the graph is opened for writing
//
// One process writes at a time; a second one is told who ("in use by process N") and can still read.
// Thread rule: a Store is used by one thread; snapshots of it one thread each.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "kg/store/change.h"
#include "kg/store/snapshot.h"

namespace saggar {

enum class Access : std::uint8_t { read, write };

class Store {
public:
    struct Beginning {
        std::string vocabulary;  // JSON text; empty: the tableware default
        std::string profile;     // JSON text; empty: the default profile
        std::string author;
        std::string time;  // ISO 8601, UTC
    };

    // Makes an empty graph with entry 1. StoreFault where the folder holds a graph already or cannot be written;
    // UsageFault where the vocabulary is unsound (profiles are checked by their own loader before they come here).
    static Store create(const std::filesystem::path& folder, const Beginning& beginning);
    // StoreFault where there is no graph; InUse where another process writes and `access` is write.
    static Store open(const std::filesystem::path& folder, Access access);

    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;
    ~Store();

    // As of the latest entry, or of an earlier one. UsageFault where there is no such entry.
    std::unique_ptr<Snapshot> snapshot(std::optional<std::uint64_t> as_of = std::nullopt) const;
    std::uint64_t last_entry() const;
    // The last entry made at or before `time` (a part of ISO 8601 means its end: "2026-03" is the end of that March).
    std::uint64_t entry_at(std::string_view time) const;

    // Starts a change. Only one at a time; the Store must outlive it. Nothing is written before commit().
    Change begin(ChangeHead head);
    // Replaces the vocabulary or profile from the next entry on; an entry of its own.
    Entry set_vocabulary(const std::string& text, ChangeHead head);
    Entry set_profile(const std::string& text, ChangeHead head);

    // Small settings of this graph that are not part of its history: "author", ...
    std::string setting(std::string_view name) const;

    // The entry that a file with this digest was loaded as; nothing where it never was.
    std::optional<std::uint64_t> loaded_as(const ContentId& digest) const;

    const std::filesystem::path& folder() const { return folder_; }
    const std::shared_ptr<Database>& database() const { return db_; }

private:
    Store(std::filesystem::path folder, std::shared_ptr<Database> db);
    std::filesystem::path folder_;
    std::shared_ptr<Database> db_;
};

}  // namespace saggar
