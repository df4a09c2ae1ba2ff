// A thin face for the Markdown parser: a document that frees itself, and the few questions the notes reader asks.
#pragma once

#include <cmark-gfm.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "importers/named_columns.h"
#include "kg/model/text_lines.h"

namespace saggar {

struct MarkdownFree {
    void operator()(cmark_node* node) const { cmark_node_free(node); }
};
using MarkdownDocument = std::unique_ptr<cmark_node, MarkdownFree>;

// With tables; raw HTML is kept as text. Thread-safe.
MarkdownDocument parse_markdown(std::string_view text);

// "heading", "paragraph", "table", "table_row", "link", ...
std::string_view markdown_type(cmark_node* node);

// The words of a node without their marks; line breaks become blanks.
std::string markdown_words(cmark_node* node);

// All nodes of one type below `node`, in order.
std::vector<cmark_node*> markdown_below(cmark_node* node, std::string_view type);

// The address of a link, decoded.
std::string_view link_target(cmark_node* link);

// The text with where its lines start, for places of nodes.
class MarkdownPlaces {
public:
    MarkdownPlaces(std::string_view file, std::string_view text) : lines_(file, text), starts_{0} {
        for (std::size_t at = text.find('\n'); at != std::string_view::npos; at = text.find('\n', at + 1)) {
            starts_.push_back(at + 1);
        }
    }
    Place place(cmark_node* node) const;
    // The place of `words` in the node's lines; of the node where they do not stand there as such.
    Place place_of_words(cmark_node* node, std::string_view words) const;
    std::string_view line(int number) const;

private:
    std::size_t offset(int line, int column) const;

    TextLines lines_;
    std::vector<std::size_t> starts_;
};

// A row of a Markdown table. A cell that holds nothing but a link to a key reads as that key.
class MarkdownRow final : public CellRow {
public:
    MarkdownRow(cmark_node* row, const MarkdownPlaces& places);
    std::size_t size() const override { return texts_.size(); }
    std::string_view text(std::size_t cell) const override { return texts_[cell]; }
    Place place(std::size_t cell) const override;
    std::uint32_t line() const override;

private:
    cmark_node* row_;
    const MarkdownPlaces& places_;
    std::vector<cmark_node*> cells_;
    std::vector<std::string> texts_;
};

}  // namespace saggar
