// What a snapshot keeps between reads. Private to snapshot*.cpp.
#pragma once

#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "kg/store/database.h"
#include "kg/store/snapshot.h"

namespace saggar {

struct Snapshot::State {
    // One iterator for all short scans; never used while a visitor of the caller runs.
    rocksdb::Iterator& local(const Database& database);
    std::vector<ClaimWithEvidence> read_claims(const Database& database, std::string_view prefix, std::uint64_t entry);

    std::unique_ptr<rocksdb::Iterator> cursor;
    std::unordered_map<std::uint64_t, std::string> keys;
    std::unordered_map<std::string, RelationId> relation_ids;
    std::unordered_map<char, bool> families;  // whether there is any key of a family
};

}  // namespace saggar
