#include "viz/svg.h"

#include <fmt/format.h>

#include <algorithm>

#include "viz/legend.h"
#include "viz/panels.h"
#include "viz/sheet.h"
#include "viz/spoken.h"
#include "viz/svg_parts.h"

namespace saggar::viz {

namespace {

void open_symbol(XmlWriter& svg, const std::string& id, std::string_view class_name, std::string_view role_words,
                 const std::string& name, const std::string& key) {
    svg.open("g")
        .attribute("id", id)
        .attribute("class", class_name)
        .attribute("role", "graphics-symbol")
        .attribute("tabindex", "0");
    svg.attribute("aria-roledescription", role_words).attribute("aria-label", name);
    if (!key.empty()) svg.attribute("data-key", key);
}

void write_node(Sheet& sheet, const std::string& id, const DiagramNode& node, const Box& box, const Point& centre) {
    auto& svg = sheet.svg();
    open_symbol(svg, id, "node", "box", spoken(node), node.key);
    write_outline(svg, node.outline, {centre.x - box.width / 2, centre.y - box.height / 2, box.width, box.height},
                  node.focus);
    const double middle = centre.x + (box.padding.left - box.padding.right) / 2;
    write_block(svg, box.block, middle, centre.y - box.height / 2 + box.padding.top);
    svg.close();
}

void write_edge(Sheet& sheet, const std::string& id, const Diagram& diagram, const DiagramEdge& edge,
                const Block& block, const EdgePosition& position, const Point& offset) {
    auto& svg = sheet.svg();
    open_symbol(svg, id, "line", "line", spoken(diagram, edge), edge.key);
    write_line(svg, edge, position, offset);
    if (position.label && !block.empty()) {
        const double x = position.label->x + offset.x, top = position.label->y + offset.y - block.height / 2;
        svg.open("rect")
            .attribute("x", x - block.width / 2 - 2)
            .attribute("y", top)
            .attribute("width", block.width + 4);
        svg.attribute("height", block.height).attribute("fill", colour::paper).attribute("fill-opacity", 0.85).close();
        write_block(svg, block, x, top);
    }
    svg.close();
}

// Lines shared by several claims; each claim is read out at its own branch.
void write_stems(Sheet& sheet, const Diagram& diagram, const std::vector<Stem>& stems, const Point& offset) {
    if (stems.empty()) return;
    auto& svg = sheet.svg();
    svg.open("g").attribute("class", "shared").attribute("aria-hidden", "true");
    for (const auto& stem : stems) {
        DiagramEdge like = diagram.edges[stem.like];
        like.weight.reset();
        if (stem.mixed) like.stance.reset();
        write_line(svg, like, stem.path, offset);
    }
    svg.close();
}

LegendRow row_for_stems(const Diagram& diagram, const Stem& stem) {
    LegendRow row;
    row.drawing = LegendDrawing::line;
    row.line = diagram.edges[stem.like];
    row.line.weight.reset();
    if (stem.mixed) row.line.stance.reset();
    row.headed = false;
    row.meaning = "shared by several claims; each has its own branch, with its own weight";
    return row;
}

// Larger than A0 (ISO 216: 841 by 1189 mm) whichever way it is turned, or not clear in spite of mending.
bool is_web(const Diagram& diagram, const Layout& layout) {
    constexpr double kShort = 841 / 25.4 * 96, kLong = 1189 / 25.4 * 96;
    const auto& at = layout.positions;
    return std::min(at.width, at.height) > kShort || std::max(at.width, at.height) > kLong ||
           (layout.clashes > 0 && diagram.nodes.size() > kLeastForCombs);
}

}  // namespace

std::string to_svg(const Diagram& diagram, const Layout& layout, const SvgOptions& options) {
    Sheet sheet(
        {diagram.name, diagram.title, diagram.description, diagram.made_from, diagram.left_out, options.id_prefix},
        layout.positions.width);
    const Point offset{sheet.left_for(layout.positions.width), sheet.y()};
    write_stems(sheet, diagram, layout.stems, offset);
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        const auto& at = layout.positions.nodes[i];
        write_node(sheet, fmt::format("{}-n{}", options.id_prefix, i), diagram.nodes[i], layout.boxes[i],
                   {at.x + offset.x, at.y + offset.y});
    }
    for (std::size_t i = 0; i < diagram.edges.size(); ++i) {
        write_edge(sheet, fmt::format("{}-e{}", options.id_prefix, i), diagram, diagram.edges[i], layout.edge_blocks[i],
                   layout.positions.edges[i], offset);
    }
    sheet.skip(layout.positions.height + 6);
    auto legend = legend_of(diagram);
    if (!layout.stems.empty()) legend.push_back(row_for_stems(diagram, layout.stems.front()));
    sheet.legend(legend);
    sheet.cautions(diagram.cautions);
    if (options.citations) sheet.citations(diagram.citations);
    return sheet.finish();
}

std::string to_svg(const Diagram& diagram, const SvgOptions& options) {
    if (lines_outside_combs(diagram) < kLeastForPanels) {
        const auto layout = lay_out(diagram);
        if (!is_web(diagram, layout)) return to_svg(diagram, layout, options);
    }
    const auto panels = in_panels(diagram);
    return to_svg(panels.diagram, panels.layout, options);
}

}  // namespace saggar::viz
