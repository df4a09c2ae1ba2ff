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
    // Iterators for all short scans, one over claims and one over links: each stays in the table file of its family, for
    // opening another file costs as much as the scan. Never used while a visitor of the caller runs.
    rocksdb::Iterator& claims_cursor(const Database& database) { return cursor(claims_at, database, 'c'); }
    rocksdb::Iterator& links_cursor(const Database& database) { return cursor(links_at, database, 'o'); }
    static rocksdb::Iterator& cursor(std::unique_ptr<rocksdb::Iterator>& at, const Database& database, char family);
    std::vector<ClaimWithEvidence> read_claims(const Database& database, std::string_view prefix, std::uint64_t entry);

    std::unique_ptr<rocksdb::Iterator> claims_at;
    std::unique_ptr<rocksdb::Iterator> links_at;
    std::vector<Link> backward;  // while links of one thing are read
    std::unordered_map<std::uint64_t, std::string> keys;
    std::unordered_map<std::string, RelationId> relation_ids;
    std::unordered_map<char, bool> families;  // whether there is any key of a family
};

}  // namespace saggar
