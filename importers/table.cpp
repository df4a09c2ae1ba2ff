#include "importers/table.h"

#include <fmt/format.h>

#include "kg/model/text_lines.h"

namespace saggar {

Place place_of_cell(std::string_view file, const Row& row, std::size_t cell) {
    const TextLines lines(file, row.written, row.line);
    if (cell >= row.cells.size()) return lines.place(row.written.size(), row.written.size());
    return lines.place(row.cells[cell].begin, row.cells[cell].end);
}

TableReader::TableReader(TextInput& input, TableDialect dialect) : input_(input), dialect_(std::move(dialect)) {
    for (const char sign : {dialect_.delimiter, '\r', '\n'}) special_[static_cast<unsigned char>(sign)] = true;
    if (dialect_.quote) special_[static_cast<unsigned char>(dialect_.quote)] = true;
}

TableReader::Step TableReader::wrong(std::size_t begin, std::size_t end, std::string id, std::string message,
                                     std::string next) {
    const TextLines lines(input_.name(), input_.window(), input_.line());
    input_.problems().add(
        {std::move(id), Severity::error, lines.place(begin, end), std::move(message), std::move(next)});
    ended_ = true;
    return Step::wrong;
}

// Passes over empty lines and comment lines. False at the end of the file.
bool TableReader::skip_between_rows() {
    for (;;) {
        std::string_view window = input_.window();
        if (window.size() < 2 + dialect_.comment_prefix.size() && !at_end_) {
            at_end_ = !input_.more();
            continue;
        }
        if (window.empty()) return false;
        if (window[0] == '\n') {
            input_.consume(1);
        } else if (window.substr(0, 2) == "\r\n") {
            input_.consume(2);
        } else if (!dialect_.comment_prefix.empty() &&
                   window.substr(0, dialect_.comment_prefix.size()) == dialect_.comment_prefix) {
            const std::size_t end = window.find('\n');
            if (end == std::string_view::npos && !at_end_) {
                at_end_ = !input_.more();
                continue;
            }
            input_.consume(end == std::string_view::npos ? window.size() : end + 1);
        } else {
            return true;
        }
    }
}

bool TableReader::next(Row& row) {
    input_.consume(pending_);
    pending_ = 0;
    if (ended_ || !skip_between_rows()) return false;
    for (;;) {
        const Step step = scan(input_.window());
        if (step == Step::wrong) return false;
        if (step == Step::row) break;
        if (input_.window().size() > input_.limits().piece_bytes) {
            wrong(0, 0, "table-long-row",
                  fmt::format("the row that starts here is longer than {} bytes", input_.limits().piece_bytes),
                  "look for a quote that is opened here and never closed");
            return false;
        }
        at_end_ = !input_.more();
    }
    pending_ = scanned_;
    row.line = input_.line();
    row.written = input_.window().substr(0, written_);
    row.cells = cells_;
    return true;
}

// One row from the start of the window. `cut_off`: the window ends before the row does.
TableReader::Step TableReader::scan(std::string_view window) {
    cells_.clear();
    unescaped_.clear();
    std::size_t at = 0;
    for (;;) {
        const std::size_t begin = at;
        if (dialect_.quote && at < window.size() && window[at] == dialect_.quote) {
            if (const Step step = quoted_cell(window, at); step != Step::row) return step;
        } else {
            while (at < window.size() && !special_[static_cast<unsigned char>(window[at])]) ++at;
            if (at < window.size() && window[at] == dialect_.quote && dialect_.quote) {
                // A quote inside a cell that did not start with one is data: RFC 4180 does not allow it, people write
                // 6".
                while (at < window.size() &&
                       (window[at] == dialect_.quote || !special_[static_cast<unsigned char>(window[at])])) {
                    ++at;
                }
            }
            Cell cell;
            cell.text = window.substr(begin, at - begin);
            cell.begin = static_cast<std::uint32_t>(begin);
            cell.end = static_cast<std::uint32_t>(at);
            cells_.push_back(cell);
        }
        if (cells_.size() > most_cells) {
            return wrong(begin, at, "table-many-cells", fmt::format("the row has more than {} cells", most_cells),
                         "check the delimiter");
        }
        if (at == window.size()) {
            if (!at_end_) return Step::cut_off;
            written_ = scanned_ = at;
            return Step::row;
        }
        if (window[at] == dialect_.delimiter) {
            ++at;
            continue;
        }
        written_ = at;
        if (window[at] == '\r') {
            if (at + 1 == window.size() && !at_end_) return Step::cut_off;
            if (at + 1 < window.size() && window[at + 1] != '\n') {
                return wrong(
                    at, at + 1, "table-lone-cr", "a carriage return stands here without a line feed",
                    "save the table with line ends CR LF or LF, and put quotes round cells that hold line ends");
            }
            ++at;
        }
        scanned_ = std::min(at + 1, window.size());
        return Step::row;
    }
}

TableReader::Step TableReader::quoted_cell(std::string_view window, std::size_t& at) {
    const std::size_t begin = at++;
    std::size_t from = at;  // of the piece not yet copied
    std::string* copied = nullptr;
    for (;;) {
        std::size_t stop = dialect_.doubled_quote ? window.find(dialect_.quote, at) : at;
        if (!dialect_.doubled_quote) {
            while (stop < window.size() && window[stop] != dialect_.quote && window[stop] != '\\') ++stop;
            if (stop == window.size()) stop = std::string_view::npos;
        }
        if (stop == std::string_view::npos || (stop + 1 == window.size() && !at_end_)) {
            if (!at_end_) return Step::cut_off;
            return wrong(begin, begin + 1, "table-unclosed-quote", "the quote opened here is never closed",
                         "close it, or double each quote that is part of the text");
        }
        const bool doubled = dialect_.doubled_quote && stop + 1 < window.size() && window[stop + 1] == dialect_.quote;
        const bool escaped = !dialect_.doubled_quote && window[stop] == '\\' && stop + 1 < window.size();
        if (!doubled && !escaped) {
            Cell cell;
            cell.quoted = true;
            cell.begin = static_cast<std::uint32_t>(begin);
            cell.end = static_cast<std::uint32_t>(stop + 1);
            if (copied) copied->append(window.substr(from, stop - from));
            cell.text = copied ? std::string_view(*copied) : window.substr(from, stop - from);
            cells_.push_back(cell);
            at = stop + 1;
            break;
        }
        if (!copied) copied = &unescaped_.emplace_back();
        copied->append(window.substr(from, stop - from));
        *copied += window[stop + 1];
        at = from = stop + 2;
    }
    if (at < window.size() && window[at] != dialect_.delimiter && window[at] != '\r' && window[at] != '\n') {
        return wrong(at, at + 1, "table-text-after-quote",
                     fmt::format("text goes on after the closing quote, with `{}`", sign_at(window, at)),
                     "double each quote that is part of the text, and put one quote at each end of the cell");
    }
    return Step::row;
}

}  // namespace saggar
