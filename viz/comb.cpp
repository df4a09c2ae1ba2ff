#include "viz/comb.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace saggar::viz {

namespace {

constexpr double kBus = 14;                            // from the edge of the comb to the line that joins its trunks
constexpr double kBeforeLabel = 16, kAfterLabel = 20;  // on a branch, left and right of the words
constexpr double kAbove = 3, kRowGap = 10, kColumnGap = 28;
constexpr double kArrowHead = 10;              // length of an arrow head
constexpr double kGoodShape = 1.25;       // width by height
constexpr double kSide = 14, kSpine = 4;  // room left and right; the line in it that leads to the bus

struct Row {
    double above = 0, below = 0;  // of the branch
    double label = 0, leaf = 0;   // widths
    double height() const { return above + below + kRowGap; }
};

std::size_t leaf_of(const Comb& comb, const Diagram& diagram, std::size_t tooth) {
    const auto& edge = diagram.edges[comb.teeth[tooth]];
    return edge.from == comb.hub ? edge.to : edge.from;
}

std::vector<Row> rows_of(const Comb& comb, const Diagram& diagram, const std::vector<Box>& boxes,
                         const std::vector<Block>& blocks) {
    std::vector<Row> rows;
    for (std::size_t i = 0; i < comb.teeth.size(); ++i) {
        const auto& box = boxes[leaf_of(comb, diagram, i)];
        const auto& block = blocks[comb.teeth[i]];
        Row row;
        row.below = box.height / 2;
        row.above = std::max(box.height / 2, block.empty() ? 0 : block.height + kAbove);
        row.label = block.width;
        row.leaf = box.width;
        rows.push_back(row);
    }
    return rows;
}

std::size_t columns_for(const std::vector<Row>& rows) {
    double height = 0, label = 0, leaf = 0;
    for (const auto& row : rows) {
        height += row.height();
        label = std::max(label, row.label);
        leaf = std::max(leaf, row.leaf);
    }
    const double width = kBeforeLabel + label + kAfterLabel + leaf + kColumnGap;
    const double columns = std::round(std::sqrt(height * kGoodShape / width));
    return std::clamp<std::size_t>(static_cast<std::size_t>(columns), 1, rows.size());
}

// Fills columns of about equal height, one after the other.
void arrange(Comb& comb, const std::vector<Row>& rows, const std::vector<Block>& blocks) {
    double all = 0;
    for (const auto& row : rows) all += row.height();
    const double full = all / static_cast<double>(columns_for(rows));
    double left = kSide, filled = 0;
    for (std::size_t first = 0; first < rows.size();) {
        std::size_t next = first;
        double label = 0, leaf = 0, height = 0;
        while (next < rows.size() && (next == first || filled + height + rows[next].height() / 2 <=
                                                           full * static_cast<double>(comb.trunks.size() + 1))) {
            label = std::max(label, rows[next].label);
            leaf = std::max(leaf, rows[next].leaf);
            height += rows[next++].height();
        }
        filled += height;
        double y = kBus + kRowGap;
        const double leaf_left = left + kBeforeLabel + label + kAfterLabel;
        for (std::size_t i = first; i < next; ++i) {
            const auto& block = blocks[comb.teeth[i]];
            const double branch = y + rows[i].above;
            comb.branches.push_back(branch);
            comb.leaves.push_back({leaf_left + rows[i].leaf / 2, branch});
            comb.labels.push_back({left + kBeforeLabel + block.width / 2, branch - kAbove - block.height / 2});
            comb.columns.push_back(comb.trunks.size());
            y = branch + rows[i].below + kRowGap;
        }
        comb.trunks.push_back(left);
        comb.width = leaf_left + leaf + kSide;
        comb.height = std::max(comb.height, y);
        left = comb.width - kSide + kColumnGap;
        first = next;
    }
}

void straight(EdgePosition& edge, const Point& from, const Point& to) {
    const auto part = [&](double share) {
        return Point{from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share};
    };
    edge.curve = {from, part(1.0 / 3), part(2.0 / 3), to};
}

}  // namespace

Comb comb_of(const Diagram& diagram, std::size_t hub, std::vector<std::size_t> teeth, const std::vector<Box>& boxes,
             const std::vector<Block>& edge_blocks) {
    Comb comb;
    comb.hub = hub;
    comb.teeth = std::move(teeth);
    arrange(comb, rows_of(comb, diagram, boxes, edge_blocks), edge_blocks);
    return comb;
}

std::vector<Comb> combs_of(const Diagram& diagram, const std::vector<Box>& boxes, const std::vector<Block>& edge_blocks,
                           std::size_t least_boxes) {
    if (diagram.nodes.size() <= least_boxes) return {};
    std::vector<std::size_t> lines(diagram.nodes.size(), 0);
    for (const auto& edge : diagram.edges) {
        ++lines[edge.from];
        ++lines[edge.to];
    }
    std::map<std::tuple<std::size_t, bool, int>, Comb> by_hub;
    for (std::size_t i = 0; i < diagram.edges.size(); ++i) {
        const auto& edge = diagram.edges[i];
        if (edge.role == LineRole::tie || edge.from == edge.to) continue;
        const bool outward = lines[edge.to] == 1;
        const auto leaf = outward ? edge.to : edge.from, hub = outward ? edge.from : edge.to;
        if (lines[leaf] != 1 || lines[hub] == 1 || diagram.nodes[leaf].focus) continue;
        auto& comb = by_hub[{hub, outward, edge.stance ? static_cast<int>(*edge.stance) : -1}];
        comb.hub = hub;
        comb.outward = outward;
        comb.teeth.push_back(i);
    }
    std::vector<Comb> combs;
    for (auto& [key, comb] : by_hub) {
        if (comb.teeth.size() <= kMostAlone) continue;
        arrange(comb, rows_of(comb, diagram, boxes, edge_blocks), edge_blocks);
        combs.push_back(std::move(comb));
    }
    return combs;
}

void place(const Comb& comb, const Diagram& diagram, const std::vector<Box>& boxes, const Point& centre, Side from,
           Positions& positions, std::vector<Stem>& stems, std::optional<double> joint_at) {
    const double left = centre.x - comb.width / 2, top = centre.y - comb.height / 2;
    const bool from_below = from == Side::below;
    const double shift = from_below ? top - kBus : top;  // rows stand at the top where the trunk comes from below
    const double bus = from_below ? top + comb.height - kBus : top + kBus;
    std::vector<double> farthest(comb.trunks.size(), bus);
    for (std::size_t i = 0; i < comb.teeth.size(); ++i) {
        const auto leaf = leaf_of(comb, diagram, i);
        const double y = shift + comb.branches[i], trunk = left + comb.trunks[comb.columns[i]];
        const Point at{left + comb.leaves[i].x, y};
        positions.nodes[leaf] = at;
        const Point near_trunk{trunk, y}, near_leaf{at.x - boxes[leaf].width / 2, y};
        auto& edge = positions.edges[comb.teeth[i]];
        edge.label = Point{left + comb.labels[i].x, shift + comb.labels[i].y};
        const bool outward = diagram.edges[comb.teeth[i]].from == comb.hub;
        edge.head_tip = outward ? near_leaf : near_trunk;
        if (outward) {
            straight(edge, near_trunk, {near_leaf.x - kArrowHead, y});
        } else {
            straight(edge, near_leaf, {near_trunk.x + kArrowHead, y});
        }
        auto& reach = farthest[comb.columns[i]];
        reach = from_below ? std::min(reach, y) : std::max(reach, y);
    }
    const double first = left + comb.trunks.front(), last = left + comb.trunks.back();
    const auto& like = diagram.edges[comb.teeth.front()].stance;
    const bool mixed = std::any_of(comb.teeth.begin(), comb.teeth.end(),
                                   [&](std::size_t tooth) { return diagram.edges[tooth].stance != like; });
    const auto add = [&](const Point& first_end, const Point& other_end) {
        Stem stem;
        stem.like = comb.teeth.front();
        stem.mixed = mixed;
        straight(stem.path, first_end, other_end);
        stems.push_back(std::move(stem));
    };
    double joint = joint_at.value_or(centre.x);  // where the line from the hub meets the bus
    if (from == Side::left || from == Side::right) {
        joint = from == Side::left ? left + kSpine : left + comb.width - kSpine;
        add({from == Side::left ? left : left + comb.width, centre.y}, {joint, centre.y});
        add({joint, centre.y}, {joint, bus});
    } else {
        add({joint, from_below ? top + comb.height : top}, {joint, bus});
    }
    add({std::min(first, joint), bus}, {std::max(last, joint), bus});
    for (std::size_t i = 0; i < comb.trunks.size(); ++i) {
        add({left + comb.trunks[i], bus}, {left + comb.trunks[i], farthest[i]});
    }
}

}  // namespace saggar::viz
