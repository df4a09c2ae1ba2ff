#include "importers/csvw/annotated_rows.h"

#include <fmt/format.h>

#include <algorithm>

namespace saggar::csvw {
namespace {

TableDialect table_dialect(const Dialect& dialect) {
    TableDialect out;
    out.delimiter = dialect.delimiter.empty() ? ',' : dialect.delimiter.front();
    out.quote = dialect.quote.empty() ? '\0' : dialect.quote.front();
    out.doubled_quote = dialect.double_quote;
    return out;  // comments are told from data here, for skipped rows may hold them
}

// Equal up to the length of the shorter, at a subtag's end; "und" fits all.
bool languages_fit(std::string_view a, std::string_view b) {
    if (a == "und" || b == "und" || a.empty() || b.empty()) return true;
    const std::size_t shorter = std::min(a.size(), b.size());
    const auto ends = [&](std::string_view tag) { return tag.size() == shorter || tag[shorter] == '-'; };
    return a.substr(0, shorter) == b.substr(0, shorter) && ends(a) && ends(b);
}

bool is_xml_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

}  // namespace

AnnotatedRows::AnnotatedRows(const Table& table, TextInput& input)
    : table_(table), input_(input), reader_(input, table_dialect(table.dialect)), columns_(table.columns) {}

bool AnnotatedRows::next_row() {
    const std::string& comment = table_.dialect.comment_prefix;
    while (reader_.next(row_)) {
        ++source_number_;
        if (!comment.empty() && row_.written.substr(0, comment.size()) == comment && !row_.cells.front().quoted)
            continue;
        return true;
    }
    return false;
}

bool AnnotatedRows::start() {
    for (std::size_t i = 0; i < table_.dialect.skip_rows; ++i) {
        if (!reader_.next(row_)) return !input_.problems().any_error();
        ++source_number_;
    }
    if (!read_header()) return false;
    for (const std::string& name : table_.primary_key) {
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            if (columns_[i].name == name) key_columns_.push_back(i);
        }
    }
    cells_.resize(columns_.size());
    return true;
}

bool AnnotatedRows::read_header() {
    std::vector<std::vector<std::string>> titles;
    for (std::size_t i = 0; i < table_.dialect.header_rows; ++i) {
        if (!next_row()) {
            if (!input_.problems().any_error()) {
                input_.problems().add({"csvw-no-header", Severity::error, Place{input_.name(), 0, 0, "", 0},
                                       "the table has no header", "add one, or say \"header\": false in the dialect"});
            }
            return false;
        }
        const std::size_t skip = std::min(table_.dialect.skip_columns, row_.cells.size());
        titles.resize(std::max(titles.size(), row_.cells.size() - skip));
        for (std::size_t cell = skip; cell < row_.cells.size(); ++cell) {
            titles[cell - skip].emplace_back(trimmed(row_.cells[cell].text, row_.cells[cell].quoted));
        }
    }
    if (!table_.has_schema) {
        for (const auto& words : titles) {
            Column column;
            for (const std::string& word : words) column.titles.push_back({word, "und"});
            if (!words.empty()) append_encoded(words.front(), false, column.name);
            columns_.push_back(std::move(column));
        }
        return true;
    }
    return table_.dialect.header_rows == 0 || header_fits(titles);
}

// Section 5.5.1: as many columns, and each compatible with its title.
bool AnnotatedRows::header_fits(const std::vector<std::vector<std::string>>& titles) {
    const auto wanted = static_cast<std::size_t>(
        std::count_if(columns_.begin(), columns_.end(), [](const Column& column) { return !column.is_virtual; }));
    if (titles.size() != wanted) {
        input_.problems().add({"csvw-column-count", Severity::error,
                               place_of_cell(input_.name(), row_, row_.cells.size()),
                               fmt::format("the header has {} {}, the metadata {}", titles.size(), titles.size() == 1 ? "column" : "columns", wanted),
                               "describe every column of the file, in its order"});
        return false;
    }
    bool good = true;
    for (std::size_t i = 0; i < titles.size(); ++i) {
        if (title_fits(columns_[i], titles[i])) continue;
        good = false;
        const Title* const same = [&]() -> const Title* {
            for (const Title& one : columns_[i].titles)
                if (std::find(titles[i].begin(), titles[i].end(), one.text) != titles[i].end()) return &one;
            return nullptr;
        }();
        if (same) {
            input_.problems().add({"csvw-title", Severity::error, place_of_cell(input_.name(), row_, i + table_.dialect.skip_columns),
                                   fmt::format("the heading \"{}\" is in the language {} of the column (\"lang\"), its title in the metadata in {}", same->text,
                                               columns_[i].language, same->language),
                                   "give the title in that language, or leave out \"lang\" or the @language of the @context"});
            continue;
        }
        input_.problems().add(
            {"csvw-title", Severity::error, place_of_cell(input_.name(), row_, i + table_.dialect.skip_columns),
             fmt::format("the column is headed \"{}\", and the metadata calls it \"{}\"", titles[i].front(),
                         columns_[i].titles.empty() ? columns_[i].name : columns_[i].titles.front().text),
             "put the heading among the column's \"titles\""});
    }
    return good;
}

bool AnnotatedRows::title_fits(const Column& column, const std::vector<std::string>& titles) const {
    if (column.titles.empty()) {
        const bool unnamed = column.name.empty() || column.name.substr(0, 5) == "_col.";
        return unnamed || std::any_of(titles.begin(), titles.end(), [&](const std::string& title) {
                   std::string encoded;
                   append_encoded(title, false, encoded);
                   return title == column.name || encoded == column.name;
               });
    }
    return std::any_of(titles.begin(), titles.end(), [&](const std::string& title) {
        return std::any_of(column.titles.begin(), column.titles.end(), [&](const Title& one) {
            return one.text == title && languages_fit(one.language, column.language);
        });
    });
}

std::string_view AnnotatedRows::trimmed(std::string_view text, bool quoted) const {
    const Trim trim = table_.dialect.trim;
    if (quoted || trim == Trim::none) return text;
    while (trim != Trim::end && !text.empty() && is_xml_blank(text.front())) text.remove_prefix(1);
    while (trim != Trim::start && !text.empty() && is_xml_blank(text.back())) text.remove_suffix(1);
    return text;
}

Place AnnotatedRows::place_of(std::size_t column) const {
    const bool in_file = column < columns_.size() && !columns_[column].is_virtual;
    Place place = place_of_cell(input_.name(), row_, in_file ? column + table_.dialect.skip_columns : 0);
    if (!in_file) place.length = 0;
    return place;
}

bool AnnotatedRows::next() {
    const std::size_t skip = table_.dialect.skip_columns;
    while (next_row()) {
        const auto& written = row_.cells;
        const bool blank = std::all_of(written.begin(), written.end(),
                                       [&](const Cell& cell) { return trimmed(cell.text, cell.quoted).empty(); });
        if (blank && table_.dialect.skip_blank_rows) continue;
        const auto in_file = static_cast<std::size_t>(
            std::count_if(columns_.begin(), columns_.end(), [](const Column& column) { return !column.is_virtual; }));
        if (written.size() != in_file + skip) {
            const std::size_t at = std::min(written.size(), in_file + skip);
            input_.problems().add({"csvw-cell-count", Severity::error, place_of_cell(input_.name(), row_, at),
                                   fmt::format("the row has {} cells, the table {} columns",
                                               written.size() - std::min(skip, written.size()), in_file),
                                   "mend the row: look for a missing or an unquoted delimiter"});
            continue;
        }
        ++number_;
        scratch_.clear();
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            const bool real = !columns_[i].is_virtual;
            read_cell(columns_[i],
                      real ? trimmed(written[i + skip].text, written[i + skip].quoted) : std::string_view(), i,
                      cells_[i]);
        }
        check_primary_key();
        return true;
    }
    return false;
}

// Steps 1 and 2 of section 6.4.
std::string_view AnnotatedRows::normalized(const Column& column, std::string_view text) {
    if (keeps_line_ends(column.datatype)) return text;
    const bool squeeze = !keeps_blanks(column.datatype);
    const bool untouched = text.find_first_of("\t\n\r") == std::string_view::npos &&
                           (!squeeze || (text.find("  ") == std::string_view::npos &&
                                         (text.empty() || (text.front() != ' ' && text.back() != ' '))));
    if (untouched) return text;
    std::string& out = scratch_.emplace_back();
    for (const char c : text) {
        const char sign = is_xml_blank(c) ? ' ' : c;
        if (squeeze && sign == ' ' && (out.empty() || out.back() == ' ')) continue;
        out += sign;
    }
    if (squeeze && !out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

bool AnnotatedRows::keep(const Column& column, std::size_t index, std::string id, std::string message,
                         std::string next) {
    const auto policy = column.own.find("unreadable");
    const bool lenient = policy != column.own.end() && policy->second == "warn";
    input_.problems().add({std::move(id), lenient ? Severity::warning : Severity::error, place_of(index),
                           std::move(message), std::move(next)});
    return false;
}

// Steps 3 to 9 of section 6.4.
void AnnotatedRows::read_cell(const Column& column, std::string_view written, std::size_t index, CellValue& value) {
    value.written = written;
    value.is_null = false;
    value.wrong = false;
    value.is_list = column.separator.has_value();
    value.texts.clear();
    std::string_view text = normalized(column, written);
    if (text.empty()) text = column.default_text;
    const auto is_null = [&](std::string_view one) {
        return std::find(column.nulls.begin(), column.nulls.end(), one) != column.nulls.end();
    };
    if (!value.is_list) {
        if (is_null(text)) {
            value.is_null = true;
            if (column.required)
                value.wrong =
                    !keep(column, index, "csvw-required",
                          fmt::format("the column \"{}\" needs a value in every row", column.name), "fill it in");
            return;
        }
        add_value(column, text, index, value);
        return;
    }
    if (text.empty()) {
        if (column.required)
            value.wrong = !keep(column, index, "csvw-required",
                                fmt::format("the column \"{}\" needs a value in every row", column.name), "fill it in");
        return;
    }
    if (is_null(text)) {
        value.is_null = true;
        return;
    }
    const std::string& separator = *column.separator;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(separator, from), text.size());
        std::string_view part = text.substr(from, to - from);
        from = to + separator.size();
        const std::string_view base = column.datatype.base->name;
        if (base != "string" && base != "anyAtomicType" && base != "any") {
            while (!part.empty() && is_xml_blank(part.front())) part.remove_prefix(1);
            while (!part.empty() && is_xml_blank(part.back())) part.remove_suffix(1);
        }
        if (part.empty()) part = column.default_text;
        if (!is_null(part)) add_value(column, part, index, value);
    }
}

void AnnotatedRows::add_value(const Column& column, std::string_view text, std::size_t index, CellValue& value) {
    const Datatype& type = column.datatype;
    const bool plain = type.base->group == TypeGroup::text && !type.pattern && !type.length && !type.least_length &&
                       !type.most_length && (type.base->name == "string" || keeps_blanks(type));
    if (plain) {
        value.texts.push_back(text);
        return;
    }
    std::string why;
    auto read = read_value(text, type, why);
    if (read) {
        value.texts.push_back(scratch_.emplace_back(std::move(*read)));
        return;
    }
    value.wrong = true;
    keep(column, index, "csvw-value", fmt::format("\"{}\" is no {}: {}", text.substr(0, 80), type.base->name, why),
         "mend the cell, or the datatype in the metadata");
}

void AnnotatedRows::check_primary_key() {
    if (key_columns_.empty()) return;
    std::string key;
    for (const std::size_t column : key_columns_) {
        for (const std::string_view text : cells_[column].texts) key += fmt::format("{}:{},", text.size(), text);
        key += ';';
    }
    if (keys_.insert(std::move(key)).second) return;
    input_.problems().add(
        {"csvw-primary-key", Severity::error, place_of(key_columns_.front()),
         fmt::format("another row has the same primary key ({})", fmt::join(table_.primary_key, ", ")),
         "take one of the rows out, or mend its key"});
}

}  // namespace saggar::csvw
