// Many things hanging on one: drawn like the teeth of a comb instead of a fan of lines.
//
// A hub with dozens of leaves (boxes with one line only) makes an endless row, and its lines a web nobody can follow.
// The leaves are set in columns; each column has one trunk, and each leaf stands on a branch of its own with its words
// above the branch, so how surely each claim holds stays readable line by line. To the layout program a comb is one
// box. The idea is that of the indented lists in printed pedigrees. Cost: linear in the leaves.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "viz/block.h"
#include "viz/diagram.h"
#include "viz/render/positions.h"

namespace saggar::viz {

// Leaves of a hub. In a layout by `dot` those on one side that speak alike (all for, all against, or claims); in a
// panel (panels.h) all of them.
struct Comb {
    std::size_t hub = 0;             // index into Diagram::nodes
    bool outward = true;             // lines run from the hub to the leaves, as far as `dot` is concerned
    std::vector<std::size_t> teeth;  // indices into Diagram::edges
    // From here on in px from the comb's top left, as if the trunk came in from above; place() turns it over.
    double width = 0, height = 0;
    std::vector<Point> leaves, labels;  // centres, one per tooth
    std::vector<double> branches;       // y of each branch
    std::vector<std::size_t> columns;   // column of each tooth
    std::vector<double> trunks;         // x of the trunk of each column
};

// The combs of a diagram with more than `least_boxes` boxes; a hub needs more than kMostAlone leaves of one sort.
// A leaf that the picture is about stays by itself. By hub, then side.
inline constexpr std::size_t kMostAlone = 4, kLeastForCombs = 40;
std::vector<Comb> combs_of(const Diagram& diagram, const std::vector<Box>& boxes, const std::vector<Block>& edge_blocks,
                           std::size_t least_boxes = kLeastForCombs);

// A comb of these lines of one hub, its columns filled. No other line may end at their leaves.
Comb comb_of(const Diagram& diagram, std::size_t hub, std::vector<std::size_t> teeth, const std::vector<Box>& boxes,
             const std::vector<Block>& edge_blocks);

// A piece of a line that several claims share.
struct Stem {
    std::size_t like = 0;  // an edge whose colour and head it has
    bool mixed = false;    // shared by lines for and against: it has the colour of neither
    EdgePosition path;
};

// Writes the places of the comb's leaves and branches into `positions`, given where the comb's box stands, and adds
// its trunks to `stems`. `from`: where the hub stands; `joint`: x at which the line from a hub above or below comes in,
// the middle where not given.
enum class Side { above, below, left, right };
void place(const Comb& comb, const Diagram& diagram, const std::vector<Box>& boxes, const Point& centre, Side from,
           Positions& positions, std::vector<Stem>& stems, std::optional<double> joint = std::nullopt);

}  // namespace saggar::viz
