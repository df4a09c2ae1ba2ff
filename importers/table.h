// Tables of text (RFC 4180), a row at a time, with the place of every cell.
//
//   file   = row *(line-end row) [line-end]        line-end = CR LF | LF
//   row    = cell *(delimiter cell)
//   cell   = *plain | quote *(any but quote | quote quote) quote
//
// Cells are data as they stand: blanks stay, line ends inside quotes stay. Rows are read in one pass over a moving
// window; cells are views of it, and only a cell that holds a doubled quote is copied. A quote that is never closed is
// reported where it opens. The delimiter, the quote and comment lines can be set, as a CSVW dialect asks.
// Cost: one look at each byte, about 500 MB/s.
#pragma once

#include <cstdint>
#include <deque>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "importers/text_input.h"

namespace saggar {

struct TableDialect {
    char delimiter = ',';
    char quote = '"';            // 0: none
    bool doubled_quote = true;   // false: a backslash stands before a quote that is data
    std::string comment_prefix;  // lines that start so are passed over; empty: none
};

struct Cell {
    std::string_view text;    // the data
    std::uint32_t begin = 0;  // bytes of the row as written, quotes included
    std::uint32_t end = 0;
    bool quoted = false;
};

struct Row {
    std::uint32_t line = 0;    // where it starts
    std::string_view written;  // all of it, without its line end
    std::span<const Cell> cells;
};

// Where a cell stands; where the row ends for `cell` beyond the last.
Place place_of_cell(std::string_view file, const Row& row, std::size_t cell);

class TableReader {
public:
    static constexpr std::size_t most_cells = 10000;

    explicit TableReader(TextInput& input, TableDialect dialect = {});

    // The next row; its views hold until the next call. False at the end, and after a problem that makes the rest
    // unreadable (ids table-...). Empty lines are passed over: a row without a single cell says nothing.
    bool next(Row& row);

private:
    enum class Step : std::uint8_t { row, cut_off, wrong };

    Step scan(std::string_view window);
    Step quoted_cell(std::string_view window, std::size_t& at);
    Step wrong(std::size_t begin, std::size_t end, std::string id, std::string message, std::string next);
    bool skip_between_rows();

    TextInput& input_;
    TableDialect dialect_;
    bool special_[256] = {};
    bool ended_ = false;
    std::vector<Cell> cells_;
    std::deque<std::string> unescaped_;
    std::size_t scanned_ = 0;  // bytes of the window the last row takes, with its line end
    std::size_t written_ = 0;  // without
    std::size_t pending_ = 0;  // bytes to consume before the next row
    bool at_end_ = false;      // the window holds the rest of the file
};

}  // namespace saggar
