#include "importers/named_columns.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/model/nearest.h"
#include "kg/model/vocabulary.h"

namespace saggar {

bool NamedColumns::read_header(const CellRow& header, std::string_view what, Problems& problems) {
    width_ = header.size();
    bool good = true;
    for (std::size_t cell = 0; cell < header.size(); ++cell) {
        const std::string name = fold(trim(header.text(cell)));
        const auto known = std::find(names_.begin(), names_.end(), name);
        if (known == names_.end()) {
            good = false;
            const std::vector<std::string> candidates(names_.begin(), names_.end());
            problems.add({"table-unknown-column", Severity::error, header.place(cell),
                          fmt::format("a table of {} has no column \"{}\"{}", what, trim(header.text(cell)),
                                      Vocabulary::suggestion(nearest_word(name, candidates))),
                          fmt::format("columns are: {}; for other tables give a metadata file with --map",
                                      fmt::join(names_, ", "))});
            continue;
        }
        std::size_t& place = cell_of_[static_cast<std::size_t>(known - names_.begin())];
        if (place != none) {
            good = false;
            problems.add({"table-doubled-column", Severity::error, header.place(cell),
                          fmt::format("the column \"{}\" stands twice in the header", name), "give each column once"});
        }
        place = cell;
    }
    return good;
}

bool NamedColumns::require(const CellRow& header, std::span<const std::size_t> columns, std::string_view what,
                           Problems& problems) const {
    bool good = true;
    for (const std::size_t column : columns) {
        if (has(column)) continue;
        good = false;
        problems.add({"table-missing-column", Severity::error, header.place(0),
                      fmt::format("a table of {} needs the column \"{}\"", what, names_[column]),
                      fmt::format("add \"{}\" to the header", names_[column])});
    }
    return good;
}

std::string_view NamedColumns::text(const CellRow& row, std::size_t column) const {
    const std::size_t cell = cell_of_[column];
    return cell < row.size() ? row.text(cell) : std::string_view();
}

bool NamedColumns::is_blank(const CellRow& row) {
    for (std::size_t cell = 0; cell < row.size(); ++cell) {
        if (!trim(row.text(cell)).empty()) return false;
    }
    return true;
}

bool NamedColumns::fits(const CellRow& row, Problems& problems) const {
    if (row.size() < width_) {
        problems.add({"table-short-row", Severity::error, row.place(row.size()),
                      fmt::format("the row has {} cells, the header {}", row.size(), width_),
                      "add the missing delimiters, or put quotes round a cell that holds a line end"});
        return false;
    }
    for (std::size_t cell = width_; cell < row.size(); ++cell) {
        if (trim(row.text(cell)).empty()) continue;
        problems.add({"table-long-row", Severity::error, row.place(cell),
                      fmt::format("the row has {} cells, the header {}: \"{}\" stands under no column", row.size(),
                                  width_, row.text(cell).substr(0, 60)),
                      "put quotes round a cell that holds the delimiter, or name the column in the header"});
        return false;
    }
    return true;
}

Place RowOrigin::place_of(std::string_view field) const {
    const auto names = columns_.names();
    const auto known = std::find(names.begin(), names.end(), field);
    if (known != names.end()) {
        const auto column = static_cast<std::size_t>(known - names.begin());
        if (columns_.has(column)) return columns_.place(row_, column);
    }
    Place place = row_.place(0);
    place.length = 0;
    return place;
}

}  // namespace saggar
