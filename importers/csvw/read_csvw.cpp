#include "importers/csvw/read_csvw.h"

#include <fmt/format.h>

#include "importers/csvw/foreign_keys.h"
#include "importers/csvw/row_records.h"

namespace saggar::csvw {

void read_csvw(TextInput& input, const std::filesystem::path& path, const std::filesystem::path& map,
               const ReadContext& context, Sink& sink, std::string default_source) {
    Problems& problems = input.problems();
    const std::string document = TextInput(map.string(), open_file(map), problems).rest();
    const auto group = read_metadata(document, map, problems);
    if (!group) return;
    for (const UnusedProperty& one : group->unused) {
        problems.add({"csvw-unused", Severity::warning, one.place, fmt::format("\"{}\" has no effect: {}", one.name, one.why),
                      "nothing need be done, unless you counted on it"});
    }
    const Table* table = table_for(*group, path.filename().string());
    if (!table) {
        problems.add({"csvw-no-table", Severity::error, Place{map.string(), 0, 0, "", 0},
                      fmt::format("the metadata describes no table \"{}\"", path.filename().string()),
                      "name it in the \"url\" of a table"});
        return;
    }
    AnnotatedRows rows(*table, input);
    ForeignKeyCheck keys(*group, *table, map.parent_path(), problems);
    if (!rows.start() || !keys.start(rows.columns())) return;
    RowRecords records(rows, context, sink, problems, std::move(default_source));
    if (!records.plan()) return;
    while (rows.next()) {
        keys.check(rows);
        records.put_row();
    }
}

std::filesystem::path find_metadata(const std::filesystem::path& table) {
    const std::filesystem::path folder = table.parent_path();
    for (const std::filesystem::path& candidate :
         {folder / (table.filename().string() + "-metadata.json"), folder / "csv-metadata.json"}) {
        std::error_code bad;
        if (!std::filesystem::is_regular_file(candidate, bad)) continue;
        Problems untold(0);
        const std::string document = TextInput(candidate.string(), open_file(candidate), untold).rest();
        const auto group = read_metadata(document, candidate, untold);
        // One that is meant for this table alone and cannot be read is not passed over: its errors are told.
        if (!group && candidate.filename() != "csv-metadata.json") return candidate;
        if (group && table_for(*group, table.filename().string())) return candidate;
    }
    return {};
}

}  // namespace saggar::csvw
