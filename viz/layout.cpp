#include "viz/layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "kg/model/fault.h"
#include "viz/dot_graph.h"
#include "viz/mend.h"
#include "viz/render/limits.h"

namespace saggar::viz {

namespace {

constexpr std::size_t kMostInRow = 6;                    // boxes hanging on one box before they are spread over rows
constexpr double kGoodWidth = 1400, kGoodHeight = 2000;  // px; the shape of a sheet of paper
// With more lines than this their words, side by side, are wider than any sheet: left to right they stand one below
// the other.
constexpr std::size_t kMostLinesDown = 100;
constexpr double kLabelMargin = 8;  // px kept free round the words beside a line
constexpr double kMoreRoom[] = {1.25, 1.6, 2.2, 3};
constexpr std::size_t kMostForRetry = 150;  // boxes; larger pictures take long to lay out

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
// that the picture stays about as high as wide (the same idea as Graphviz's own `unflatten`). In a large picture boxes
// between two others are spread as well. Gives the least length of each line, in rows.
std::vector<std::size_t> row_lengths(const Diagram& diagram) {
    const std::size_t most_lines = diagram.nodes.size() > kLeastForCombs ? 2 : 1;
    std::vector<std::size_t> lines_at(diagram.nodes.size(), 0);
    for (const auto& edge : diagram.edges) {
        ++lines_at[edge.from];
        ++lines_at[edge.to];
    }
    std::vector<std::optional<std::pair<std::size_t, bool>>> hub_of;  // of each line, with the side
    std::vector<bool> hangs(diagram.nodes.size(), false);
    std::map<std::pair<std::size_t, bool>, std::size_t> hanging, seen;
    for (const auto& edge : diagram.edges) {
        std::optional<std::pair<std::size_t, bool>> hub;
        const auto try_end = [&](std::size_t leaf, std::size_t other, bool outward) {
            if (hub || hangs[leaf] || lines_at[leaf] > most_lines || lines_at[other] <= most_lines) return;
            hangs[leaf] = true;
            hub = std::make_pair(other, outward);
            ++hanging[*hub];
        };
        try_end(edge.to, edge.from, true);
        try_end(edge.from, edge.to, false);
        hub_of.push_back(hub);
    }
    std::vector<std::size_t> lengths;
    for (const auto& hub : hub_of) {
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
                            const std::vector<Block>& edge_blocks, std::size_t first_comb, double room) {
    DotGraph graph("layout");
    graph.set("rankdir", diagram.flow == Flow::right ? "LR" : diagram.flow == Flow::up ? "BT" : "TB");
    graph.set("nodesep", fmt::format("{:.3f}", 0.35 * room));
    graph.set("ranksep", fmt::format("{:.3f}", (diagram.flow == Flow::right ? 0.6 : 0.5) * room));
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
        const char* facing = diagram.flow == Flow::up ? "s" : diagram.flow == Flow::right ? "w" : "n";
        const char* averted = diagram.flow == Flow::up ? "n" : diagram.flow == Flow::right ? "e" : "s";
        if (edge.to >= first_comb) DotGraph::set(drawn, "headport", facing);
        if (edge.from >= first_comb) DotGraph::set(drawn, "tailport", averted);
        if (lengths[i] > 1) DotGraph::set(drawn, "minlen", std::to_string(lengths[i]));
        if (!edge_blocks[i].empty()) graph.set_html(drawn, "label", room_for(edge_blocks[i]));
    }
    return graph.text();
}

namespace {

// What dot is asked about: the diagram with each comb as one box, and where everything of it came from.
struct Core {
    Diagram diagram;
    std::vector<Box> boxes;
    std::vector<Block> blocks;
    std::vector<std::size_t> nodes, edges;  // of the whole diagram; edges: kStem where it is a comb's
    std::vector<std::size_t> stems;         // the core's edge of each comb
    std::size_t first_comb = 0;
};
constexpr std::size_t kStem = static_cast<std::size_t>(-1);

Core core_of(const Diagram& diagram, const Layout& layout, const std::vector<Comb>& combs) {
    Core core;
    core.diagram.flow = diagram.flow;
    constexpr auto kNone = static_cast<std::size_t>(-1);
    std::vector<std::size_t> comb_of_edge(diagram.edges.size(), kNone), place(diagram.nodes.size(), 0);
    std::vector<bool> in_comb(diagram.nodes.size(), false);
    for (std::size_t c = 0; c < combs.size(); ++c) {
        for (const auto tooth : combs[c].teeth) {
            comb_of_edge[tooth] = c;
            in_comb[combs[c].outward ? diagram.edges[tooth].to : diagram.edges[tooth].from] = true;
        }
    }
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        if (in_comb[i]) continue;
        place[i] = core.nodes.size();
        core.nodes.push_back(i);
        core.boxes.push_back(layout.boxes[i]);
    }
    core.first_comb = core.nodes.size();
    for (const auto& comb : combs) {
        Box box;
        box.width = comb.width;
        box.height = comb.height;
        core.boxes.push_back(box);
    }
    core.diagram.nodes.resize(core.boxes.size());
    core.stems.assign(combs.size(), kNone);
    for (std::size_t i = 0; i < diagram.edges.size(); ++i) {
        DiagramEdge edge;
        edge.role = diagram.edges[i].role;
        edge.stance = diagram.edges[i].stance;
        const auto c = comb_of_edge[i];
        if (c == kNone) {
            edge.from = place[diagram.edges[i].from];
            edge.to = place[diagram.edges[i].to];
        } else {
            if (core.stems[c] != kNone) continue;
            core.stems[c] = core.edges.size();
            const auto hub = place[combs[c].hub], box = core.first_comb + c;
            edge.from = combs[c].outward ? hub : box;
            edge.to = combs[c].outward ? box : hub;
        }
        core.diagram.edges.push_back(std::move(edge));
        core.blocks.push_back(c == kNone ? layout.edge_blocks[i] : Block{});
        core.edges.push_back(c == kNone ? i : kStem);
    }
    return core;
}

Positions ask(const Core& core, Flow flow, double room, const ChildLimits& limits, const std::string& program) {
    Diagram turned = core.diagram;
    turned.flow = flow;
    const auto question = layout_question(turned, core.boxes, core.blocks, core.first_comb, room);
    const auto answer = run_child(program.empty() ? program_beside("saggar-render") : program, {}, question,
                                  "laying out the diagram", limits);
    return parse_positions(answer, core.boxes.size(), core.diagram.edges.size());
}

// The core's places become the whole diagram's.
void spread(const Core& core, const Positions& answer, Flow flow, const std::vector<Comb>& combs,
            const Diagram& diagram, Layout& layout) {
    auto& whole = layout.positions;
    whole.width = answer.width;
    whole.height = answer.height;
    whole.nodes.resize(diagram.nodes.size());
    whole.edges.resize(diagram.edges.size());
    for (std::size_t i = 0; i < core.nodes.size(); ++i) whole.nodes[core.nodes[i]] = answer.nodes[i];
    for (std::size_t i = 0; i < core.edges.size(); ++i) {
        if (core.edges[i] != kStem) whole.edges[core.edges[i]] = answer.edges[i];
    }
    for (std::size_t c = 0; c < combs.size(); ++c) {
        const Point& centre = answer.nodes[core.first_comb + c];
        const Point& hub = whole.nodes[combs[c].hub];
        const Side from = flow == Flow::right ? (hub.x < centre.x ? Side::left : Side::right)
                          : hub.y < centre.y  ? Side::above
                                              : Side::below;
        place(combs[c], diagram, layout.boxes, centre, from, whole, layout.stems);
        auto stem = answer.edges[core.stems[c]];
        if (combs[c].outward && stem.head_tip) {  // no arrow head where the trunk begins
            for (int i = 0; i < 3; ++i) stem.curve.push_back(*stem.head_tip);
            stem.head_tip.reset();
        }
        layout.stems.push_back({combs[c].teeth.front(), false, std::move(stem)});
    }
}

// How far the picture exceeds a sheet twice as high as a screen: 1 and less fits.
double excess(const Positions& positions) {
    return std::max(positions.width / kGoodWidth, positions.height / kGoodHeight);
}

}  // namespace

std::size_t lines_outside_combs(const Diagram& diagram) {
    std::vector<Box> boxes;
    std::vector<Block> blocks;
    for (const auto& node : diagram.nodes) boxes.push_back(box_of(node));
    for (const auto& edge : diagram.edges) blocks.push_back(block_of(edge));
    std::size_t lines = diagram.edges.size();
    for (const auto& comb : combs_of(diagram, boxes, blocks)) lines -= comb.teeth.size();
    return lines;
}

Layout lay_out(const Diagram& diagram, const ChildLimits& limits, const std::string& program) {
    check(diagram);
    refuse_what_is_too_large(diagram);
    Layout layout;
    for (const auto& node : diagram.nodes) layout.boxes.push_back(box_of(node));
    for (const auto& edge : diagram.edges) layout.edge_blocks.push_back(block_of(edge));
    if (diagram.nodes.empty()) return layout;
    const auto combs = combs_of(diagram, layout.boxes, layout.edge_blocks);
    const Core core = core_of(diagram, layout, combs);
    Flow flow = core.diagram.flow;
    if (flow == Flow::down && core.diagram.edges.size() > kMostLinesDown) flow = Flow::right;
    auto answer = ask(core, flow, 1, limits, program);
    if (flow == Flow::down && answer.width > kGoodWidth) {
        auto sideways = ask(core, Flow::right, 1, limits, program);
        if (excess(sideways) < excess(answer)) {
            answer = std::move(sideways);
            flow = Flow::right;
        }
    }
    std::vector<Ends> ends;
    for (const auto& edge : core.diagram.edges) ends.push_back({edge.from, edge.to});
    std::size_t clashes = mend(core.boxes, core.blocks, ends, answer);
    if (core.boxes.size() <= kMostForRetry) {
        for (const double room : kMoreRoom) {
            if (clashes == 0) break;
            auto wider = ask(core, flow, room, limits, program);
            const std::size_t left = mend(core.boxes, core.blocks, ends, wider);
            if (left >= clashes) continue;
            clashes = left;
            answer = std::move(wider);
        }
    }
    layout.clashes = clashes;
    spread(core, answer, flow, combs, diagram, layout);
    return layout;
}

}  // namespace saggar::viz
