#include "importers/markdown.h"

#include <cmark-gfm-core-extensions.h>

#include <algorithm>
#include <mutex>

#include "importers/words.h"
#include "kg/model/fault.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

struct ParserFree {
    void operator()(cmark_parser* parser) const { cmark_parser_free(parser); }
};

struct IteratorFree {
    void operator()(cmark_iter* iterator) const { cmark_iter_free(iterator); }
};

// Calls `visit` on entering each node below (and including) `node`; the parser's iterator does not recurse.
template <class Visit>
void each_node(cmark_node* node, Visit visit) {
    const std::unique_ptr<cmark_iter, IteratorFree> iterator(cmark_iter_new(node));
    for (cmark_event_type event; (event = cmark_iter_next(iterator.get())) != CMARK_EVENT_DONE;) {
        if (event == CMARK_EVENT_ENTER) visit(cmark_iter_get_node(iterator.get()));
    }
}

// The cells of a row as written, counted by the bars between them. A backslash keeps a bar inside its cell.
std::vector<std::string_view> cells_as_written(std::string_view line) {
    line = trim(line);
    if (!line.empty() && line.front() == '|') line.remove_prefix(1);
    if (line.size() > 1 && line.back() == '|' && line[line.size() - 2] != '\\') line.remove_suffix(1);
    std::vector<std::string_view> cells;
    std::size_t begin = 0;
    for (std::size_t i = 0; i <= line.size(); ++i) {
        if (i < line.size() && (line[i] != '|' || (i > 0 && line[i - 1] == '\\'))) continue;
        cells.push_back(trim(line.substr(begin, i - begin)));
        begin = i + 1;
    }
    return cells;
}

}  // namespace

MarkdownDocument parse_markdown(std::string_view text) {
    static std::once_flag registered;
    std::call_once(registered, [] { cmark_gfm_core_extensions_ensure_registered(); });
    const std::unique_ptr<cmark_parser, ParserFree> parser(cmark_parser_new(CMARK_OPT_DEFAULT | CMARK_OPT_SOURCEPOS));
    cmark_syntax_extension* const tables = cmark_find_syntax_extension("table");
    if (!tables) throw Fault("the Markdown parser knows no tables", "install libcmark-gfm-extensions");
    cmark_parser_attach_syntax_extension(parser.get(), tables);
    cmark_parser_feed(parser.get(), text.data(), text.size());
    return MarkdownDocument(cmark_parser_finish(parser.get()));
}

std::string_view markdown_type(cmark_node* node) {
    return cmark_node_get_type_string(node);
}

std::string_view link_target(cmark_node* link) {
    const char* const target = cmark_node_get_url(link);
    return target ? target : "";
}

std::string markdown_words(cmark_node* node) {
    std::string words;
    each_node(node, [&](cmark_node* below) {
        const cmark_node_type type = cmark_node_get_type(below);
        if (type == CMARK_NODE_SOFTBREAK || type == CMARK_NODE_LINEBREAK) {
            words += ' ';
        } else if (type == CMARK_NODE_PARAGRAPH && !words.empty()) {
            words += ' ';
        } else if (const char* const literal = cmark_node_get_literal(below)) {
            words += literal;
        }
    });
    return words;
}

std::vector<cmark_node*> markdown_below(cmark_node* node, std::string_view type) {
    std::vector<cmark_node*> found;
    each_node(node, [&](cmark_node* below) {
        if (markdown_type(below) == type) found.push_back(below);
    });
    return found;
}

std::size_t MarkdownPlaces::offset(int line, int column) const {
    if (line < 1 || static_cast<std::size_t>(line) > starts_.size()) return lines_.text().size();
    return std::min(starts_[static_cast<std::size_t>(line) - 1] + static_cast<std::size_t>(std::max(column, 1) - 1),
                    lines_.text().size());
}

std::string_view MarkdownPlaces::line(int number) const {
    const std::size_t begin = offset(number, 1);
    return lines_.text().substr(begin, lines_.text().find('\n', begin) - begin);
}

Place MarkdownPlaces::place(cmark_node* node) const {
    const int line = cmark_node_get_start_line(node);
    const std::size_t begin = offset(line, cmark_node_get_start_column(node));
    return lines_.place(begin, offset(line, cmark_node_get_end_column(node)) + 1);
}

Place MarkdownPlaces::place_of_words(cmark_node* node, std::string_view words) const {
    const std::size_t begin = offset(cmark_node_get_start_line(node), cmark_node_get_start_column(node));
    const std::size_t end = offset(cmark_node_get_end_line(node) + 1, 1);
    const std::size_t at = lines_.text().substr(begin, end - begin).find(words);
    if (words.empty() || at == std::string_view::npos) return place(node);
    return lines_.place(begin + at, begin + at + words.size());
}

MarkdownRow::MarkdownRow(cmark_node* row, const MarkdownPlaces& places) : row_(row), places_(places) {
    for (cmark_node* cell = cmark_node_first_child(row); cell; cell = cmark_node_next(cell)) {
        cells_.push_back(cell);
        const auto links = markdown_below(cell, "link");
        const std::string words = markdown_words(cell);
        const bool only_link = links.size() == 1 && markdown_words(links.front()) == words;
        texts_.push_back(only_link && is_key(link_target(links.front())) ? std::string(link_target(links.front()))
                                                                         : words);
    }
    // The parser drops cells beyond the header's; what was written there must not be lost unseen.
    const auto written = cells_as_written(places.line(cmark_node_get_start_line(row)));
    for (std::size_t i = cells_.size(); i < written.size(); ++i) texts_.emplace_back(written[i]);
}

Place MarkdownRow::place(std::size_t cell) const {
    if (cell < cells_.size()) {
        cmark_node* const first = cmark_node_first_child(cells_[cell]);
        if (!first) return places_.place(cmark_node_get_start_column(cells_[cell]) > 0 ? cells_[cell] : row_);
        // The parser counts the blanks round a cell with it; the caret belongs under its words.
        Place place = places_.place(first);
        const Place last = places_.place(cmark_node_last_child(cells_[cell]));
        if (last.line == place.line && last.column >= place.column)
            place.length = last.column + last.length - place.column;
        return place;
    }
    if (cell < texts_.size()) return places_.place_of_words(row_, texts_[cell]);
    return places_.place(row_);
}

std::uint32_t MarkdownRow::line() const {
    return static_cast<std::uint32_t>(cmark_node_get_start_line(row_));
}

}  // namespace saggar
