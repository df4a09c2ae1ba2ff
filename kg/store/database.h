// The one place that talks to RocksDB: options, error translation, and small helpers. Not for headers of other rooms.
#pragma once

#include <rocksdb/db.h>
#include <rocksdb/options.h>

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "kg/store/ids.h"

namespace saggar {

inline rocksdb::Slice slice(std::string_view text) { return {text.data(), text.size()}; }
inline std::string_view view(const rocksdb::Slice& text) { return {text.data(), text.size()}; }

// Throws the StoreFault or InUse that fits; returns where the status is fine.
void require(const rocksdb::Status& status, std::string_view doing);

struct Database {
    std::unique_ptr<rocksdb::DB> db;
    std::filesystem::path folder;  // of the graph
    bool writable = false;
    bool secondary = false;
    std::filesystem::path scratch;  // of a secondary; removed on close
    ~Database();

    std::optional<std::string> get(std::string_view key) const;
    std::uint64_t number(std::string_view setting) const;  // 0 where it is not set
    // An iterator standing on the first key not below `prefix`.
    std::unique_ptr<rocksdb::Iterator> scan(std::string_view prefix) const;
};

rocksdb::Options tuned_options();
// Opens DIR/db. `create`: it must not exist yet.
std::shared_ptr<Database> open_database(const std::filesystem::path& folder, bool write, bool create);

// Calls visit(key, value) for every key that begins with `prefix` until it returns false. Checks the iterator's status.
template <typename Visit>
void for_prefix(const Database& database, std::string_view prefix, Visit visit) {
    const auto cursor = database.scan(prefix);
    for (; cursor->Valid() && cursor->key().starts_with(slice(prefix)); cursor->Next()) {
        if (!visit(view(cursor->key()), view(cursor->value()))) break;
    }
    require(cursor->status(), "read the graph");
}

}  // namespace saggar
