// The rows of a table as its metadata sees them: cells split, null, defaulted, typed and checked.
//
// Model for Tabular Data and Metadata on the Web (W3C Recommendation 17 December 2015): the dialect (section 5), the
// header's compatibility with the schema (Metadata Vocabulary, 5.5.1), the parsing of cells (6.4), keys (6.6).
// Streaming: one row at a time; only the values of primary keys are remembered.
#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "importers/csvw/metadata.h"
#include "importers/table.h"

namespace saggar::csvw {

struct CellValue {
    std::string_view written;  // the cell's text before anything was done to it
    bool is_null = true;
    bool is_list = false;
    bool wrong = false;                   // its value cannot be read; a problem was told
    std::vector<std::string_view> texts;  // the values, in the lexical form of their type; none where null
};

class AnnotatedRows {
public:
    // `table` and `input` must outlive this. `validate`: wrong values are errors; false: the caller decides by column.
    AnnotatedRows(const Table& table, TextInput& input);

    // Reads as far as the header. False where the table does not fit its description (problems csvw-...).
    bool start();
    // The next row; false at the end. Rows that do not fit are told and passed over.
    bool next();

    // The columns of the description, virtual ones included; made from the header where it gives none.
    const std::vector<Column>& columns() const { return columns_; }
    // One for each column; virtual ones have their default.
    const std::vector<CellValue>& cells() const { return cells_; }
    std::uint64_t number() const { return number_; }                // of the row, from 1, without header
    std::uint64_t source_number() const { return source_number_; }  // of the row in the file, from 1
    std::uint32_t line() const { return row_.line; }
    Place place_of(std::size_t column) const;  // of a virtual column: the row

private:
    bool next_row();
    bool read_header();
    bool header_fits(const std::vector<std::vector<std::string>>& titles);
    bool title_fits(const Column& column, const std::vector<std::string>& titles) const;
    void read_cell(const Column& column, std::string_view written, std::size_t index, CellValue& value);
    void add_value(const Column& column, std::string_view text, std::size_t index, CellValue& value);
    std::string_view normalized(const Column& column, std::string_view text);
    std::string_view trimmed(std::string_view text, bool quoted) const;
    bool keep(const Column& column, std::size_t index, std::string id, std::string message, std::string next);
    void check_primary_key();

    const Table& table_;
    TextInput& input_;
    TableReader reader_;
    std::vector<Column> columns_;
    std::vector<CellValue> cells_;
    std::vector<std::size_t> key_columns_;
    std::unordered_set<std::string> keys_;
    std::deque<std::string> scratch_;
    Row row_;
    std::uint64_t number_ = 0;
    std::uint64_t source_number_ = 0;
};

}  // namespace saggar::csvw
