#include "importers/csvw/foreign_keys.h"

#include <fmt/format.h>

#include <algorithm>

namespace saggar::csvw {
namespace {

// The values of some cells as one text; empty where all are null, which refers to nothing.
std::string key_text(const AnnotatedRows& rows, const std::vector<std::size_t>& columns) {
    std::string text;
    bool any = false;
    for (const std::size_t column : columns) {
        for (const std::string_view value : rows.cells()[column].texts) {
            text += fmt::format("{}:{},", value.size(), value);
            any = true;
        }
        text += ';';
    }
    return any ? text : std::string();
}

bool columns_named(const std::vector<Column>& columns, const std::vector<std::string>& names,
                   std::vector<std::size_t>& out) {
    for (const std::string& name : names) {
        const auto found =
            std::find_if(columns.begin(), columns.end(), [&](const Column& column) { return column.name == name; });
        if (found == columns.end()) return false;
        out.push_back(static_cast<std::size_t>(found - columns.begin()));
    }
    return true;
}

}  // namespace

const Table* ForeignKeyCheck::referred(const ForeignKey& key) const {
    for (const Table& table : group_.tables) {
        if (key.resource.empty() ? table.schema_id == key.schema : table.url == key.resource) return &table;
    }
    return nullptr;
}

bool ForeignKeyCheck::start(const std::vector<Column>& columns) {
    for (const ForeignKey& key : table_.foreign_keys) {
        const Table* table = referred(key);
        Known known;
        known.key = &key;
        std::vector<std::size_t> there;
        const bool good = table && columns_named(columns, key.columns, known.columns) &&
                          (!table->has_schema || columns_named(table->columns, key.referenced, there));
        if (!good) {
            problems_.add({"csvw-foreign-key", Severity::error, key.place,
                           table ? "the foreign key names a column that is not there"
                                 : fmt::format("the foreign key refers to \"{}\", which the metadata does not describe",
                                               key.resource.empty() ? key.schema : key.resource),
                           "use the url of a table and the names of its columns"});
            return false;
        }
        if (!read_keys(*table, key, known)) return false;
        known_.push_back(std::move(known));
    }
    return true;
}

bool ForeignKeyCheck::read_keys(const Table& table, const ForeignKey& key, Known& known) {
    const std::filesystem::path file = folder_ / table.url;
    std::error_code bad;
    if (!std::filesystem::is_regular_file(file, bad)) {
        problems_.add({"csvw-foreign-key", Severity::warning, key.place,
                       fmt::format("\"{}\" is not beside the metadata, so its keys are not checked", table.url),
                       "put the file there"});
        return true;
    }
    TextInput input(file.string(), open_file(file), problems_);
    AnnotatedRows rows(table, input);
    std::vector<std::size_t> columns;
    if (!rows.start() || !columns_named(rows.columns(), key.referenced, columns)) return false;
    while (rows.next()) ++known.keys[key_text(rows, columns)];
    known.checked = true;
    return true;
}

void ForeignKeyCheck::check(const AnnotatedRows& rows) {
    for (const Known& known : known_) {
        const std::string text = key_text(rows, known.columns);
        if (!known.checked || text.empty()) continue;
        const auto found = known.keys.find(text);
        if (found != known.keys.end() && found->second == 1) continue;
        problems_.add(
            {"csvw-foreign-key", Severity::error, rows.place_of(known.columns.front()),
             fmt::format("{} in \"{}\" has this key", found == known.keys.end() ? "no row" : "more than one row",
                         known.key->resource.empty() ? known.key->schema : known.key->resource),
             "mend the key here, or the rows there"});
    }
}

}  // namespace saggar::csvw
