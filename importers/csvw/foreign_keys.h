// Foreign keys between the tables of a group: every row must find exactly one row in the table it refers to.
//
// The keys of a referred table are read once and held in memory, as texts with their counts.
#pragma once

#include <filesystem>
#include <string>
#include <unordered_map>
#include <vector>

#include "importers/csvw/annotated_rows.h"

namespace saggar::csvw {

class ForeignKeyCheck {
public:
    // All must outlive this. Files are looked for in `folder`.
    ForeignKeyCheck(const TableGroup& group, const Table& table, std::filesystem::path folder, Problems& problems)
        : group_(group), table_(table), folder_(std::move(folder)), problems_(problems) {}

    // Reads the referred tables. False where a key names a table or column that is not described (csvw-foreign-key).
    bool start(const std::vector<Column>& columns);
    // Checks the present row.
    void check(const AnnotatedRows& rows);

private:
    struct Known {
        std::vector<std::size_t> columns;  // of the referring table
        std::unordered_map<std::string, std::size_t> keys;
        bool checked = false;  // the referred file could be read
        const ForeignKey* key = nullptr;
    };

    const Table* referred(const ForeignKey& key) const;
    bool read_keys(const Table& table, const ForeignKey& key, Known& known);

    const TableGroup& group_;
    const Table& table_;
    std::filesystem::path folder_;
    Problems& problems_;
    std::vector<Known> known_;
};

}  // namespace saggar::csvw
