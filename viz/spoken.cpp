#include "viz/spoken.h"

#include <fmt/format.h>

#include "viz/notation.h"

namespace saggar::viz {

namespace {

void add_numbers(std::string& text, const char* words, const std::vector<int>& numbers) {
    if (numbers.empty()) return;
    text += words;
    for (std::size_t i = 0; i < numbers.size(); ++i) text += fmt::format("{}{}", i == 0 ? " " : ", ", numbers[i]);
}

const char* role_words(const DiagramEdge& edge) {
    if (edge.stance) return *edge.stance == Stance::in_favour ? "speaks for" : "speaks against";
    switch (edge.role) {
        case LineRole::copy:
            return "was copied from";
        case LineRole::inference:
            return "leads to";
        case LineRole::tie:
            return "stands with";
        case LineRole::claim:
        case LineRole::evidence:
            return "to";
    }
    return "";
}

}  // namespace

std::string spoken(const DiagramNode& node) {
    std::string text = node.kind.empty() ? node.label : node.kind + ": " + node.label;
    if (!node.note.empty()) text += "; " + node.note;
    if (node.weight) text += "; weight " + weight_text(*node.weight);
    add_numbers(text, "; citations", node.citations);
    if (node.disputed) text += "; disputed";
    if (node.ruled) text += "; ruled";
    if (node.caution) text += "; caution";
    return text;
}

std::string spoken(const Diagram& diagram, const DiagramEdge& edge) {
    std::string text = diagram.nodes[edge.from].label + ' ';
    if (edge.stance || edge.label.empty()) {
        text += role_words(edge);
    } else {
        text += edge.label;
    }
    text += ' ' + diagram.nodes[edge.to].label;
    if (edge.stance && !edge.label.empty()) text += "; " + edge.label;
    if (edge.weight) text += "; weight " + weight_text(*edge.weight);
    add_numbers(text, "; cited for by", edge.cited_for);
    add_numbers(text, "; cited against by", edge.cited_against);
    if (edge.inferred) text += "; inferred";
    if (edge.disputed) text += "; disputed";
    if (edge.ruled) text += "; ruled";
    return text;
}

}  // namespace saggar::viz
