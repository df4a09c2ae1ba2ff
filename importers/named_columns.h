// Rows of cells under a header of known column names: what our own tables in files and in notes have in common.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "importers/sink.h"

namespace saggar {

// One row, wherever its cells come from. Views live as long as the row.
class CellRow {
public:
    virtual ~CellRow() = default;
    virtual std::size_t size() const = 0;
    virtual std::string_view text(std::size_t cell) const = 0;
    // The place of a cell; the end of the row where it has no such cell.
    virtual Place place(std::size_t cell) const = 0;
    virtual std::uint32_t line() const = 0;
};

// Which known column stands where in a header. Known columns are counted in the order of `names`.
class NamedColumns {
public:
    // `names` must outlive this.
    explicit NamedColumns(std::span<const std::string_view> names) : names_(names), cell_of_(names.size(), none) {}

    // Matches the header cells, trimmed and without regard to case. Unknown and doubled names are problems
    // (table-unknown-column, table-doubled-column). True where there were none.
    bool read_header(const CellRow& header, std::string_view what, Problems& problems);
    // True where all are there; else a problem (table-missing-column) at the header.
    bool require(const CellRow& header, std::span<const std::size_t> columns, std::string_view what,
                 Problems& problems) const;

    bool has(std::size_t column) const { return cell_of_[column] != none; }
    // The cell's text; empty where the table has no such column or the row is blank there.
    std::string_view text(const CellRow& row, std::size_t column) const;
    // True where the row has as many cells as the header, or more that are blank; else a problem
    // (table-short-row, table-long-row).
    bool fits(const CellRow& row, Problems& problems) const;
    // Every cell is empty or blank: the row says nothing.
    static bool is_blank(const CellRow& row);

    Place place(const CellRow& row, std::size_t column) const { return row.place(cell_of_[column]); }
    std::span<const std::string_view> names() const { return names_; }

private:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    std::span<const std::string_view> names_;
    std::vector<std::size_t> cell_of_;
    std::size_t width_ = 0;
};

// The origin of a record read from such a row: fields are found by the name of their column.
class RowOrigin final : public Origin {
public:
    RowOrigin(const CellRow& row, const NamedColumns& columns) : row_(row), columns_(columns) {}
    std::uint32_t line() const override { return row_.line(); }
    Place place_of(std::string_view field) const override;

private:
    const CellRow& row_;
    const NamedColumns& columns_;
};

}  // namespace saggar
