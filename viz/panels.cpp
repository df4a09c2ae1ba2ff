#include "viz/panels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace saggar::viz {

namespace {

constexpr double kGap = 36;            // px between panels
constexpr double kUnderHub = 0;        // a comb begins where its hub's box ends
constexpr double kShape = 1.2;         // width of all panels by their height: citations come under them
constexpr double kFill = 0.8;          // share of the sheet that packing fills, about
constexpr double kLeastWidth = 1000;

struct Panel {
    std::size_t hub = 0;             // of the whole diagram
    std::vector<std::size_t> lines;  // of the whole diagram
};

// The thing the picture is about comes first; then the one with most lines not drawn yet. Equal ones in their order.
std::vector<Panel> panels_of(const Diagram& diagram) {
    std::vector<std::vector<std::size_t>> at(diagram.nodes.size());
    for (std::size_t e = 0; e < diagram.edges.size(); ++e) {
        at[diagram.edges[e].from].push_back(e);
        if (diagram.edges[e].to != diagram.edges[e].from) at[diagram.edges[e].to].push_back(e);
    }
    std::vector<std::size_t> open(diagram.nodes.size());
    for (std::size_t i = 0; i < at.size(); ++i) open[i] = at[i].size();
    std::vector<bool> drawn(diagram.edges.size(), false);
    std::vector<Panel> panels;
    const auto give_panel = [&](std::size_t hub) {
        Panel panel{hub, {}};
        for (const auto e : at[hub]) {
            if (drawn[e]) continue;
            drawn[e] = true;
            panel.lines.push_back(e);
            --open[diagram.edges[e].from];
            if (diagram.edges[e].to != diagram.edges[e].from) --open[diagram.edges[e].to];
        }
        // What is for stands before what is against.
        std::stable_sort(panel.lines.begin(), panel.lines.end(), [&](std::size_t a, std::size_t b) {
            const auto against = [&](std::size_t e) { return diagram.edges[e].stance == Stance::against; };
            return against(a) < against(b);
        });
        panels.push_back(std::move(panel));
    };
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        if (diagram.nodes[i].focus) give_panel(i);
    }
    for (;;) {
        const auto most = std::max_element(open.begin(), open.end());
        if (most == open.end() || *most == 0) break;
        give_panel(static_cast<std::size_t>(most - open.begin()));
    }
    for (std::size_t i = 0; i < at.size(); ++i) {  // what no line touches
        if (at[i].empty() && !diagram.nodes[i].focus) panels.push_back({i, {}});
    }
    return panels;
}

// The upper border of the free room, as steps from left to right.
class Skyline {
public:
    explicit Skyline(double width) : steps_{{0, 0, width}} {}

    // The highest place for a rectangle; it is taken.
    Point place(double width, double height) {
        double best_y = 0;
        std::optional<double> best_x;
        for (const auto& step : steps_) {
            if (step.left + width > steps_.back().right + 0.5 && best_x) break;
            const double y = lowest(step.left, step.left + width);
            if (best_x && y >= best_y) continue;
            best_x = step.left;
            best_y = y;
        }
        take(*best_x, *best_x + width, best_y + height);
        return {*best_x, best_y};
    }

    double bottom() const {
        double y = 0;
        for (const auto& step : steps_) y = std::max(y, step.y);
        return y;
    }

private:
    struct Step {
        double left, y, right;
    };

    double lowest(double left, double right) const {
        double y = 0;
        for (const auto& step : steps_) {
            if (step.left < right - 0.5 && step.right > left + 0.5) y = std::max(y, step.y);
        }
        return y;
    }

    void take(double left, double right, double y) {
        std::vector<Step> after;
        for (const auto& step : steps_) {
            if (step.left < left) after.push_back({step.left, step.y, std::min(step.right, left)});
        }
        after.push_back({left, y, std::max(right, left)});
        for (const auto& step : steps_) {
            if (step.right > right) after.push_back({std::max(step.left, right), step.y, step.right});
        }
        steps_ = std::move(after);
    }

    std::vector<Step> steps_;
};

class Builder {
public:
    explicit Builder(const Diagram& whole) : whole_(whole), panels_(panels_of(whole)), number_(whole.nodes.size(), 0) {
        for (std::size_t p = 0; p < panels_.size(); ++p) number_[panels_[p].hub] = p + 1;
    }

    Panels build() {
        auto& diagram = result_.diagram;
        diagram = whole_;
        diagram.nodes.clear();
        diagram.edges.clear();
        for (const auto& panel : panels_) add(panel);
        diagram.description +=
            fmt::format("{}Its {} lines are drawn in {} panels, each line once; a thing that has a panel of its own "
                        "names it wherever it stands.",
                        diagram.description.empty() ? "" : " ", whole_.edges.size(), panels_.size());
        pack();
        return std::move(result_);
    }

private:
    struct Built {
        std::size_t hub = 0;  // of the new diagram
        std::optional<Comb> comb;
        double width = 0, height = 0;
    };

    std::size_t repeat(std::size_t node, bool is_hub) {
        DiagramNode copy = whole_.nodes[node];
        if (number_[node] != 0) {
            copy.note += fmt::format("{}{}panel {}", copy.note.empty() ? "" : "; ", is_hub ? "" : "see ", number_[node]);
        }
        copy.focus = copy.focus && is_hub;
        result_.layout.boxes.push_back(box_of(copy));
        result_.diagram.nodes.push_back(std::move(copy));
        return result_.diagram.nodes.size() - 1;
    }

    void add(const Panel& panel) {
        auto& diagram = result_.diagram;
        auto& layout = result_.layout;
        Built built;
        built.hub = repeat(panel.hub, true);
        std::vector<std::size_t> teeth;
        for (const auto line : panel.lines) {
            DiagramEdge edge = whole_.edges[line];
            const bool outward = edge.from == panel.hub;
            const std::size_t leaf = repeat(outward ? edge.to : edge.from, false);
            edge.from = outward ? built.hub : leaf;
            edge.to = outward ? leaf : built.hub;
            layout.edge_blocks.push_back(block_of(edge));
            teeth.push_back(diagram.edges.size());
            diagram.edges.push_back(std::move(edge));
        }
        const auto& hub = layout.boxes[built.hub];
        built.width = hub.width;
        built.height = hub.height;
        if (!teeth.empty()) {
            built.comb = comb_of(diagram, built.hub, std::move(teeth), layout.boxes, layout.edge_blocks);
            built.width = std::max(built.width, built.comb->width);
            built.height += kUnderHub + built.comb->height;
        }
        built_.push_back(std::move(built));
    }

    void pack() {
        auto& layout = result_.layout;
        double area = 0, widest = kLeastWidth;
        for (const auto& built : built_) {
            area += (built.width + kGap) * (built.height + kGap);
            widest = std::max(widest, built.width + kGap);
        }
        const double width = std::max(widest, std::sqrt(area * kShape / kFill));
        layout.positions.nodes.resize(result_.diagram.nodes.size());
        layout.positions.edges.resize(result_.diagram.edges.size());
        Skyline skyline(width);
        for (const auto& built : built_) {
            const Point corner = skyline.place(built.width + kGap, built.height + kGap);
            set(built, {corner.x + kGap / 2, corner.y + kGap / 2});
        }
        layout.positions.width = width;
        layout.positions.height = skyline.bottom();
    }

    // Hub above the first trunk, comb under it.
    void set(const Built& built, const Point& corner) {
        auto& layout = result_.layout;
        const auto& hub = layout.boxes[built.hub];
        layout.positions.nodes[built.hub] = {corner.x + hub.width / 2, corner.y + hub.height / 2};
        if (!built.comb) return;
        const double top = corner.y + hub.height + kUnderHub;
        place(*built.comb, result_.diagram, layout.boxes,
              {corner.x + built.comb->width / 2, top + built.comb->height / 2}, Side::above, layout.positions,
              layout.stems, layout.positions.nodes[built.hub].x);
        for (const auto tooth : built.comb->teeth) {  // what joins without a direction has no head
            auto& path = layout.positions.edges[tooth];
            if (result_.diagram.edges[tooth].role != LineRole::tie || !path.head_tip) continue;
            path.curve.back() = *path.head_tip;
            path.head_tip.reset();
        }
    }

    const Diagram& whole_;
    std::vector<Panel> panels_;
    std::vector<std::size_t> number_;
    std::vector<Built> built_;
    Panels result_;
};

}  // namespace

Panels in_panels(const Diagram& diagram) {
    check(diagram);
    return Builder(diagram).build();
}

}  // namespace saggar::viz
