#include "viz/dot.h"

#include <fmt/format.h>

#include "viz/block.h"
#include "viz/dot_graph.h"
#include "viz/legend.h"
#include "viz/notation.h"
#include "viz/text/clean.h"
#include "viz/text/wrap.h"

namespace saggar::viz {

namespace {

constexpr double kCaptionWidth = 640;

const char* dot_shape(Outline outline) {
    switch (outline) {
        case Outline::box:
            return "box";
        case Outline::rounded:
            return "box";
        case Outline::pill:
            return "ellipse";
        case Outline::lintel:
            return "house";
        case Outline::hexagon:
            return "hexagon";
        case Outline::slanted:
            return "parallelogram";
        case Outline::octagon:
            return "octagon";
        case Outline::folded:
            return "note";
        case Outline::footed:
            return "underline";
        case Outline::framed:
            return "cds";
        case Outline::card:
            return "tab";
        case Outline::bare:
            return "plaintext";
    }
    return "box";
}

std::string joined_badges(const std::vector<Badge>& badges) {
    std::string text;
    for (const Badge badge : badges) {
        if (!text.empty()) text += "  ";
        text += fmt::format("{} {}", badge_sign(badge), badge_word(badge));
    }
    return text;
}

// The lines of a block, each closed by the Graphviz line break for centred text.
std::string label_of(const Block& block) {
    std::string label;
    for (const auto& line : block.lines) label += dot_label(line.text) + "\\n";
    if (!block.badges.empty()) label += dot_label(joined_badges(block.badges)) + "\\n";
    return label;
}

void add_left_lines(std::string& out, std::string_view text) {
    for (const auto& line : wrap(clean_line(text), kCaptionWidth, type_size::note).lines)
        out += dot_label(line) + "\\l";
}

std::string caption_of(const Diagram& diagram) {
    std::string out;
    add_left_lines(out, diagram.title);
    if (!diagram.description.empty()) add_left_lines(out, diagram.description);
    if (!diagram.left_out.empty()) add_left_lines(out, "Left out: " + diagram.left_out);
    for (const auto& entry : legend_of(diagram)) {
        add_left_lines(out, (entry.sign.empty() ? "" : entry.sign + "  ") + entry.meaning);
    }
    for (const auto& caution : diagram.cautions) add_left_lines(out, "! Caution: " + caution);
    for (const auto& citation : diagram.citations)
        add_left_lines(out, fmt::format("{}. {}", citation.number, citation.text));
    if (!diagram.made_from.empty()) add_left_lines(out, diagram.made_from);
    return out;
}

void draw_node(DotGraph& graph, std::size_t index, const DiagramNode& node) {
    Agnode_t* drawn = graph.node(index);
    DotGraph::set(drawn, "label", label_of(box_of(node).block));
    DotGraph::set(drawn, "shape", dot_shape(node.outline));
    if (node.outline == Outline::rounded) DotGraph::set(drawn, "style", "rounded");
    DotGraph::set(drawn, "color", std::string(border_colour(node.outline)));
    DotGraph::set(drawn, "penwidth", node.focus ? "2.5" : "1.2");
}

void draw_edge(DotGraph& graph, std::size_t index, const DiagramEdge& edge) {
    Agedge_t* drawn = graph.edge(index, edge.from, edge.to);
    const auto style = edge.weight ? line_style(band_of(*edge.weight)) : kUnweighed;
    DotGraph::set(drawn, "label", label_of(block_of(edge)));
    DotGraph::set(drawn, "style", std::string(style.dot));
    DotGraph::set(drawn, "penwidth", fmt::format("{:.1f}", style.width));
    DotGraph::set(drawn, "color", std::string(line_colour(edge)));
    const char* head = edge.role == LineRole::tie       ? "none"
                       : edge.stance == Stance::against ? "tee"
                       : edge.role == LineRole::copy    ? "empty"
                                                        : "normal";
    DotGraph::set(drawn, "arrowhead", head);
}

}  // namespace

std::string dot_label(std::string_view text) {
    std::string out;
    for (const char c : clean_line(text)) {
        if (c == '\\') {
            out += "\\\\";
        } else if (c == '&') {
            out += "&amp;";
        } else {
            out += c;
        }
    }
    return out;
}

std::string to_dot(const Diagram& diagram) {
    check(diagram);
    DotGraph graph("saggar");
    graph.set("charset", "UTF-8");
    graph.set("rankdir", diagram.flow == Flow::right ? "LR" : diagram.flow == Flow::up ? "BT" : "TB");
    graph.set("fontname", "DejaVu Sans");
    graph.set("labelloc", "b");
    graph.set("labeljust", "l");
    graph.set("label", caption_of(diagram));
    graph.set_default(AGNODE, "fontname", "DejaVu Sans");
    graph.set_default(AGEDGE, "fontname", "DejaVu Sans");
    graph.set_default(AGNODE, "label", "");
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) draw_node(graph, i, diagram.nodes[i]);
    for (std::size_t i = 0; i < diagram.edges.size(); ++i) draw_edge(graph, i, diagram.edges[i]);
    return graph.text();
}

}  // namespace saggar::viz
