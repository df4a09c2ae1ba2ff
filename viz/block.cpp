#include "viz/block.h"

#include <algorithm>

#include "viz/notation.h"
#include "viz/text/clean.h"
#include "viz/text/wrap.h"

namespace saggar::viz {

namespace {

constexpr double kMinText = 128, kMaxText = 320, kWidestRelation = 170;
constexpr std::size_t kMostLines = 30;

void add_lines(Block& block, const Wrapped& wrapped, double size, Face face, bool quiet) {
    for (const auto& line : wrapped.lines) block.lines.push_back(TextLine{line, size, face, quiet});
}

void add_line(Block& block, const std::string& text, double size, Face face, bool quiet) {
    if (!text.empty()) block.lines.push_back(TextLine{text, size, face, quiet});
}

void measure(Block& block) {
    for (const auto& line : block.lines) {
        block.width = std::max(block.width, text_width(line.text, line.size, line.face));
        block.height += line.size * type_size::line;
    }
    if (block.badges.empty()) return;
    double row = -kBadgeGap;
    for (const Badge badge : block.badges) row += badge_width(badge) + kBadgeGap;
    block.width = std::max(block.width, row);
    block.height += kBadgeHeight + kBadgeGap;
}

Padding padding_of(Outline outline, double inner_height) {
    switch (outline) {
        case Outline::box:
        case Outline::rounded:
            return {12, 12, 7, 8};
        case Outline::pill: {
            const double side = 8 + std::min(inner_height / 4, 24.0);
            return {side, side, 7, 8};
        }
        case Outline::lintel:
            return {12, 12, 12, 8};
        case Outline::hexagon:
            return {20, 20, 7, 8};
        case Outline::slanted:
            return {20, 20, 7, 8};
        case Outline::octagon:
            return {14, 14, 8, 9};
        case Outline::folded:
            return {12, 20, 7, 8};
        case Outline::footed:
            return {12, 12, 7, 13};
        case Outline::framed:
            return {18, 18, 7, 8};
        case Outline::card:
            return {18, 12, 7, 8};
        case Outline::bare:
            return {6, 6, 4, 5};
    }
    return {};
}

// "0.82 · [1, 2]" for a box ("support" goes before it), "0.82 · for [1, 2], against [3]" or "0.82 · inferred" for a line.
std::string figures(const std::optional<double>& weight, const std::string& rest) {
    std::string text = weight ? weight_text(*weight) : std::string();
    if (!text.empty() && !rest.empty()) text += " \u00B7 ";
    return text + rest;
}

std::string cited(const DiagramEdge& edge) {
    std::string text;
    if (edge.stance) return numbers_text(edge.stance == Stance::in_favour ? edge.cited_for : edge.cited_against);
    if (!edge.cited_for.empty()) text = "for " + numbers_text(edge.cited_for);
    if (!edge.cited_against.empty())
        text += (text.empty() ? "against " : ", against ") + numbers_text(edge.cited_against);
    return text.empty() && edge.inferred ? "inferred" : text;
}

}  // namespace

std::string_view badge_sign(Badge badge) {
    switch (badge) {
        case Badge::in_favour:
            return "+";
        case Badge::against:
            return "\u2212";
        case Badge::disputed:
            return "\u2260";
        case Badge::ruled:
            return "\u00A7";
        case Badge::caution:
            return "!";
    }
    return "";
}

std::string_view badge_word(Badge badge) {
    switch (badge) {
        case Badge::in_favour:
            return "for";
        case Badge::against:
            return "against";
        case Badge::disputed:
            return "disputed";
        case Badge::ruled:
            return "ruled";
        case Badge::caution:
            return "caution";
    }
    return "";
}

double badge_width(Badge badge) { return 16 + 5 + text_width(badge_word(badge), type_size::badge) + 8; }

Box box_of(const DiagramNode& node) {
    Box box;
    if (const auto kind = clean_line(node.kind); !kind.empty()) {
        add_lines(box.block, wrap(kind, kMaxText, type_size::kind, Face::book, kMostLines), type_size::kind, Face::book,
                  true);
    }
    const auto label = clean_line(node.label);
    add_lines(box.block,
              wrap_block(label, kMinText, kMaxText, 3.2, type_size::label, type_size::label * type_size::line,
                         Face::bold, kMostLines),
              type_size::label, Face::bold, false);
    if (!node.note.empty()) {
        add_lines(box.block,
                  wrap_block(clean_line(node.note), 240, kMaxText, 3.2, type_size::note,
                             type_size::note * type_size::line, Face::book, kMostLines),
                  type_size::note, Face::book, false);
    }
    const std::string cited_numbers = numbers_text(node.citations);
    add_line(box.block, (node.weight ? "support " : "") + figures(node.weight, cited_numbers), type_size::numbers,
             Face::book, false);
    if (node.disputed) box.block.badges.push_back(Badge::disputed);
    if (node.ruled) box.block.badges.push_back(Badge::ruled);
    if (node.caution) box.block.badges.push_back(Badge::caution);
    measure(box.block);
    box.padding = padding_of(node.outline, box.block.height);
    box.width = std::max(box.block.width + box.padding.left + box.padding.right, 72.0);
    box.height = box.block.height + box.padding.top + box.padding.bottom;
    return box;
}

Block block_of(const DiagramEdge& edge) {
    Block block;
    const auto label = clean_line(edge.label);
    if (!label.empty()) {
        add_lines(block, wrap(label, kWidestRelation, type_size::relation, Face::book, kMostLines), type_size::relation,
                  Face::book, false);
    }
    add_line(block, figures(edge.weight, cited(edge)), type_size::numbers, Face::book, false);
    if (edge.stance) block.badges.push_back(*edge.stance == Stance::in_favour ? Badge::in_favour : Badge::against);
    if (edge.disputed) block.badges.push_back(Badge::disputed);
    if (edge.ruled) block.badges.push_back(Badge::ruled);
    measure(block);
    return block;
}

}  // namespace saggar::viz
