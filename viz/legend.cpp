#include "viz/legend.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "viz/text/clean.h"

namespace saggar::viz {

namespace {

void add_outlines(const Diagram& diagram, std::vector<LegendRow>& rows) {
    std::map<Outline, std::set<std::string>> kinds;
    for (const auto& node : diagram.nodes) {
        if (node.outline != Outline::bare) kinds[node.outline].insert(clean_line(node.kind));
    }
    for (const auto& [outline, words] : kinds) {
        LegendRow row;
        row.drawing = LegendDrawing::outline;
        row.outline = outline;
        row.sign = std::string(outline_in_words(outline)) + ":";
        for (const auto& word : words) row.meaning += (row.meaning.empty() ? "" : ", ") + word;
        rows.push_back(row);
    }
}

void add_line(std::vector<LegendRow>& rows, const DiagramEdge& example, std::string sign, std::string meaning) {
    LegendRow row;
    row.drawing = LegendDrawing::line;
    row.line = example;
    row.headed = example.role != LineRole::tie;
    row.sign = std::move(sign);
    row.meaning = std::move(meaning);
    rows.push_back(row);
}

void add_bands(const Diagram& diagram, std::vector<LegendRow>& rows) {
    std::set<Band> bands;
    bool unweighed = false;
    for (const auto& edge : diagram.edges) {
        if (edge.weight) bands.insert(band_of(*edge.weight));
        if (!edge.weight && edge.role != LineRole::tie) unweighed = true;
    }
    static constexpr double kExample[] = {0.9, 0.6, 0.3, 0.1};
    for (const Band band : bands) {
        DiagramEdge example;
        example.weight = kExample[static_cast<int>(band)];
        const auto style = line_style(band);
        example.role = LineRole::tie;
        add_line(rows, example, fmt::format("{}{} line:", style.width > 3 ? "heavy " : "", style.dot),
                 std::string(style.words));
    }
    if (unweighed && !bands.empty()) {
        DiagramEdge example;
        example.role = LineRole::tie;
        add_line(rows, example, "thin line:", std::string(kUnweighed.words));
    }
}

void add_roles(const Diagram& diagram, std::vector<LegendRow>& rows) {
    const auto any = [&](auto test) { return std::any_of(diagram.edges.begin(), diagram.edges.end(), test); };
    DiagramEdge example;
    if (any([](const DiagramEdge& e) { return e.stance == Stance::in_favour; })) {
        example.stance = Stance::in_favour;
        add_line(rows, example, "arrow head, + :", "speaks for what it points to; stands on the left");
    }
    if (any([](const DiagramEdge& e) { return e.stance == Stance::against; })) {
        example.stance = Stance::against;
        add_line(rows, example, "bar head, \u2212 :", "speaks against what it points to; stands on the right");
    }
    example.stance.reset();
    if (any([](const DiagramEdge& e) { return e.role == LineRole::claim; })) {
        example.role = LineRole::claim;
        add_line(rows, example, "arrow:", "a claim; reads along the arrow");
    }
    if (any([](const DiagramEdge& e) { return e.role == LineRole::inference && !e.stance; })) {
        example.role = LineRole::inference;
        add_line(rows, example, "arrow:", "a premise of the inference it points to");
    }
    if (any([](const DiagramEdge& e) { return e.role == LineRole::copy; })) {
        example.role = LineRole::copy;
        add_line(rows, example, "open head:", "was copied from");
    }
}

// What the numbers mean, where there are any.
void add_numbers(const Diagram& diagram, std::vector<LegendRow>& rows) {
    bool weights = false, citations = false, inferred = false;
    for (const auto& edge : diagram.edges) {
        weights |= edge.weight.has_value();
        citations |= !edge.cited_for.empty() || !edge.cited_against.empty();
        inferred |= edge.inferred;
    }
    for (const auto& node : diagram.nodes) {
        weights |= node.weight.has_value();
        citations |= !node.citations.empty();
    }
    const auto add = [&rows](bool wanted, const char* sign, const char* meaning) {
        if (!wanted) return;
        LegendRow row;
        row.sign = sign;
        row.meaning = meaning;
        rows.push_back(row);
    };
    add(weights, "0.64", "weight, from 0 to 1: how far it can be relied on");
    add(citations, "[2]", "number of a citation: whose word it is");
    add(inferred, "inferred", "no source says it: it follows from other claims (draw weigh shows how)");
}

void add_badges(const Diagram& diagram, std::vector<LegendRow>& rows) {
    bool disputed = false, ruled = false, caution = false;
    for (const auto& node : diagram.nodes) {
        disputed |= node.disputed;
        ruled |= node.ruled;
        caution |= node.caution;
    }
    for (const auto& edge : diagram.edges) {
        disputed |= edge.disputed;
        ruled |= edge.ruled;
    }
    const auto add = [&rows](bool wanted, Badge badge, std::string sign, std::string meaning) {
        if (!wanted) return;
        LegendRow row;
        row.drawing = LegendDrawing::badge;
        row.badge = badge;
        row.sign = std::move(sign);
        row.meaning = std::move(meaning);
        rows.push_back(row);
    };
    add(disputed, Badge::disputed, "\u2260 disputed:", "the sources contradict each other");
    add(ruled, Badge::ruled, "\u00A7 ruled:", "a ruling has been given");
    add(caution, Badge::caution, "! caution:", "see the caution below");
}

}  // namespace

std::vector<LegendRow> legend_of(const Diagram& diagram) {
    std::vector<LegendRow> rows;
    add_outlines(diagram, rows);
    add_bands(diagram, rows);
    add_roles(diagram, rows);
    add_numbers(diagram, rows);
    add_badges(diagram, rows);
    for (const auto& entry : diagram.legend) {
        LegendRow row;
        row.sign = entry.sign;
        row.meaning = entry.meaning;
        rows.push_back(row);
    }
    return rows;
}

}  // namespace saggar::viz
