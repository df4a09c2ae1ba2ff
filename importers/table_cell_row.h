// A row of a table in a file as the readers of rows see it.
#pragma once

#include "importers/named_columns.h"
#include "importers/table.h"

namespace saggar {

class TableCellRow final : public CellRow {
public:
    TableCellRow(std::string_view file, const Row& row) : file_(file), row_(row) {}
    std::size_t size() const override { return row_.cells.size(); }
    std::string_view text(std::size_t cell) const override { return row_.cells[cell].text; }
    Place place(std::size_t cell) const override { return place_of_cell(file_, row_, cell); }
    std::uint32_t line() const override { return row_.line; }

private:
    std::string_view file_;
    const Row& row_;
};

}  // namespace saggar
