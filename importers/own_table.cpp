#include "importers/own_table.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/table_cell_row.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

enum class TableKind : std::uint8_t { claims, sources, entities, unknown };

bool has_cell(const std::vector<std::string>& header, std::string_view name) {
    return std::find(header.begin(), header.end(), name) != header.end();
}

// A table with subject or relation holds claims. Entities and sources both have a key; the columns that only one of
// them has decide, and the better fit where both occur.
TableKind kind_of_table(const std::vector<std::string>& header) {
    if (has_cell(header, "subject") || has_cell(header, "relation")) return TableKind::claims;
    if (!has_cell(header, "key")) return TableKind::unknown;
    const auto fits = [&](std::span<const std::string_view> names) {
        return std::count_if(header.begin(), header.end(), [&](const std::string& cell) {
            return std::find(names.begin(), names.end(), cell) != names.end();
        });
    };
    return fits(SourceRows::column_names()) > fits(EntityRows::column_names()) ? TableKind::sources
                                                                               : TableKind::entities;
}

std::vector<std::string> folded_cells(const CellRow& row) {
    std::vector<std::string> cells;
    for (std::size_t i = 0; i < row.size(); ++i) cells.push_back(fold(trim(row.text(i))));
    return cells;
}

template <class Rows>
void read_rows(TableReader& reader, const TableCellRow& header, const std::string& file, Rows rows) {
    if (!rows.header(header)) return;
    Row row;
    while (reader.next(row)) rows.row(TableCellRow(file, row));
}

void refuse_header(const TableCellRow& header, Problems& problems) {
    const std::string_view first = header.size() ? header.text(0) : std::string_view();
    const std::size_t other = first.find_first_of(";\t|");
    problems.add({"table-unknown-header", Severity::error, header.place(0),
                  "this header is none of the tables entities, sources, claims",
                  header.size() == 1 && other != std::string_view::npos
                      ? fmt::format("the cells seem to be separated by `{}`: save the table with commas, or name the "
                                    "delimiter in a metadata file (--map)",
                                    first.substr(other, 1))
                      : std::string("use the columns of one of them, or give a metadata file with --map")});
}

}  // namespace

bool is_own_table_header(std::string_view first_line) {
    std::vector<std::string> cells;
    for (std::string_view cell : split_list(first_line, ",")) {
        if (cell.size() > 1 && cell.front() == '"' && cell.back() == '"') cell = cell.substr(1, cell.size() - 2);
        cells.push_back(fold(trim(cell)));
    }
    return kind_of_table(cells) != TableKind::unknown;
}

void read_own_table(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source) {
    TableReader reader(input);
    Row first;
    if (!reader.next(first)) {
        if (!input.problems().any_error()) {
            input.problems().add({"table-empty", Severity::error, Place{input.name(), 0, 0, "", 0},
                                  "the table is empty: it has not even a header", "check that this is the right file"});
        }
        return;
    }
    // The header row is needed while its own problems are told, and the reader reuses its memory: rows come after.
    const TableCellRow header(input.name(), first);
    switch (kind_of_table(folded_cells(header))) {
        case TableKind::claims:
            return read_rows(reader, header, input.name(),
                             ClaimRows(context, sink, input.problems(), std::move(default_source)));
        case TableKind::sources:
            return read_rows(reader, header, input.name(), SourceRows(sink, input.problems()));
        case TableKind::entities:
            return read_rows(reader, header, input.name(), EntityRows(sink, input.problems()));
        case TableKind::unknown:
            return refuse_header(header, input.problems());
    }
}

}  // namespace saggar
