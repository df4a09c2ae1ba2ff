#include "viz/layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "kg/model/fault.h"
#include "viz/dot_graph.h"
#include "viz/render/limits.h"

namespace saggar::viz {

namespace {

constexpr std::size_t kMostInRow = 6;                    // boxes hanging on one box before they are spread over rows
constexpr double kGoodWidth = 1400, kGoodHeight = 2000;  // px; the shape of a sheet of paper
constexpr double kLabelMargin = 8;                       // px kept free round the words beside a line

// One px is one point; Graphviz takes inches.
std::string inches(double px) { return fmt::format("{:.4f}", std::ceil(px) / 72); }

std::string room_for(const Block& block) {
    return fmt::format(
        "<TABLE BORDER=\"0\" CELLBORDER=\"0\" CELLPADDING=\"0\" CELLSPACING=\"0\" FIXEDSIZE=\"TRUE\" WIDTH=\"{:.0f}\" "
        "HEIGHT=\"{:.0f}\"><TR><TD></TD></TR></TABLE>",
        std::ceil(block.width + 2 * kLabelMargin), std::ceil(block.height + kLabelMargin));
}

// What is for stands left of what is against: the lines into such a box keep the order they have in the diagram.
void keep_sides(DotGraph& graph, const Diagram& diagram) {
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        bool in_favour = false, against = false;
        for (const auto& edge : diagram.edges) {
            if (edge.to != i || !edge.stance) continue;
            (*edge.stance == Stance::in_favour ? in_favour : against) = true;
        }
        if (in_favour && against) DotGraph::set(graph.node(i), "ordering", "in");
    }
}

// A box with many others hanging on it would make one endless row. The hanging ones are spread over several rows, so
// that the picture stays about as high as wide (the same idea as Graphviz's own `unflatten`). Gives the least length
// of each line, in rows.
std::vector<std::size_t> row_lengths(const Diagram& diagram) {
    std::vector<std::size_t> lines_at(diagram.nodes.size(), 0);
    for (const auto& edge : diagram.edges) {
        ++lines_at[edge.from];
        ++lines_at[edge.to];
    }
    const auto hub_of = [&](const DiagramEdge& edge) -> std::optional<std::pair<std::size_t, bool>> {
        if (lines_at[edge.to] == 1 && lines_at[edge.from] > 1) return std::make_pair(edge.from, true);
        if (lines_at[edge.from] == 1 && lines_at[edge.to] > 1) return std::make_pair(edge.to, false);
        return std::nullopt;
    };
    std::map<std::pair<std::size_t, bool>, std::size_t> hanging, seen;
    for (const auto& edge : diagram.edges) {
        if (const auto hub = hub_of(edge)) ++hanging[*hub];
    }
    std::vector<std::size_t> lengths;
    for (const auto& edge : diagram.edges) {
        const auto hub = hub_of(edge);
        const std::size_t rows =
            hub && hanging[*hub] > kMostInRow
                ? static_cast<std::size_t>(std::ceil(std::sqrt(static_cast<double>(hanging[*hub]) / 2)))
                : 1;
        lengths.push_back(hub ? 1 + seen[*hub]++ % rows : 1);
    }
    return lengths;
}

void refuse_what_is_too_large(const Diagram& diagram) {
    if (diagram.nodes.size() > kMostNodes) {
        throw LimitFault(fmt::format("the diagram has {} boxes, more than the {} that can be laid out and read",
                                     diagram.nodes.size(), kMostNodes),
                         "draw less at once: a smaller depth, fewer kinds, or a higher least support");
    }
    if (diagram.edges.size() > kMostEdges) {
        throw LimitFault(fmt::format("the diagram has {} lines, more than the {} that can be laid out and read",
                                     diagram.edges.size(), kMostEdges),
                         "draw less at once: a smaller depth, fewer kinds, or a higher least support");
    }
}

}  // namespace

std::string layout_question(const Diagram& diagram, const std::vector<Box>& boxes,
                            const std::vector<Block>& edge_blocks) {
    DotGraph graph("layout");
    graph.set("rankdir", diagram.flow == Flow::right ? "LR" : diagram.flow == Flow::up ? "BT" : "TB");
    graph.set("nodesep", "0.35");
    graph.set("ranksep", diagram.flow == Flow::right ? "0.6" : "0.5");
    graph.set_default(AGNODE, "shape", "box");
    graph.set_default(AGNODE, "fixedsize", "true");
    graph.set_default(AGNODE, "label", "");
    graph.set_default(AGNODE, "width", "1");
    graph.set_default(AGNODE, "height", "1");
    graph.set_default(AGEDGE, "label", "");
    graph.set_default(AGEDGE, "dir", "forward");
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        Agnode_t* node = graph.node(i);
        DotGraph::set(node, "width", inches(boxes[i].width));
        DotGraph::set(node, "height", inches(boxes[i].height));
    }
    keep_sides(graph, diagram);
    const auto lengths = row_lengths(diagram);
    for (std::size_t i = 0; i < diagram.edges.size(); ++i) {
        const auto& edge = diagram.edges[i];
        Agedge_t* drawn = graph.edge(i, edge.from, edge.to);
        if (edge.role == LineRole::tie) {
            DotGraph::set(drawn, "dir", "none");
            DotGraph::set(drawn, "constraint", "false");
        }
        if (lengths[i] > 1) DotGraph::set(drawn, "minlen", std::to_string(lengths[i]));
        if (!edge_blocks[i].empty()) graph.set_html(drawn, "label", room_for(edge_blocks[i]));
    }
    return graph.text();
}

namespace {

Positions ask(const Diagram& diagram, const Layout& layout, Flow flow, const ChildLimits& limits,
              const std::string& program) {
    Diagram turned = diagram;
    turned.flow = flow;
    const auto question = layout_question(turned, layout.boxes, layout.edge_blocks);
    const auto answer = run_child(program.empty() ? program_beside("saggar-render") : program, {}, question,
                                  "laying out the diagram", limits);
    return parse_positions(answer, diagram.nodes.size(), diagram.edges.size());
}

// How far the picture exceeds a sheet twice as high as a screen: 1 and less fits.
double excess(const Positions& positions) {
    return std::max(positions.width / kGoodWidth, positions.height / kGoodHeight);
}

}  // namespace

Layout lay_out(const Diagram& diagram, const ChildLimits& limits, const std::string& program) {
    check(diagram);
    refuse_what_is_too_large(diagram);
    Layout layout;
    for (const auto& node : diagram.nodes) layout.boxes.push_back(box_of(node));
    for (const auto& edge : diagram.edges) layout.edge_blocks.push_back(block_of(edge));
    if (diagram.nodes.empty()) return layout;
    layout.positions = ask(diagram, layout, diagram.flow, limits, program);
    if (diagram.flow == Flow::down && layout.positions.width > kGoodWidth) {
        auto sideways = ask(diagram, layout, Flow::right, limits, program);
        if (excess(sideways) < excess(layout.positions)) layout.positions = std::move(sideways);
    }
    return layout;
}

}  // namespace saggar::viz
