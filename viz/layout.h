// Where the boxes and lines of a diagram go.
//
// The layout itself is done by Graphviz's `dot` engine (Gansner, Koutsofios, North, Vo, "A technique for drawing
// directed graphs", 1993) in the separate program saggar-render. It is told sizes only: no text of a user reaches it.
// What its lines graze is mended (mend.h); where that is not enough the picture is laid out again with more room.
// Large pictures are first made smaller: leaves go into combs (comb.h), and `dot` sees one box a comb.
// Cost: about 5 ms for the program; 300 boxes: tests/bench/RESULTS.md.
#pragma once

#include <vector>

#include "viz/block.h"
#include "viz/comb.h"
#include "viz/diagram.h"
#include "viz/render/child.h"
#include "viz/render/positions.h"

namespace saggar::viz {

struct Layout {
    std::vector<Box> boxes;          // one per node
    std::vector<Block> edge_blocks;  // one per edge
    Positions positions;
    // Lines that several claims share: from hubs to combs, and the trunks inside.
    std::vector<Stem> stems;
    std::size_t clashes = 0;  // how often lines, words and boxes are still in each other's way
};

// How many lines the layout program would have to lead: all but those of combs.
std::size_t lines_outside_combs(const Diagram& diagram);

// The question to the layout program: sizes and joints as DOT, without any label. Boxes from `first_comb` on are combs:
// lines meet them in the middle of the side that faces the hub.
// `room`: how much further apart than usual everything is to stand.
std::string layout_question(const Diagram& diagram, const std::vector<Box>& boxes,
                            const std::vector<Block>& edge_blocks,
                            std::size_t first_comb = static_cast<std::size_t>(-1), double room = 1);

// A diagram that flows down and would be wider than a sheet is laid out from left to right where that fits better.
// Throws LimitFault above kMostNodes boxes or kMostEdges lines, and where the layout program fails or runs out of time.
// `program`: path of the layout program; empty: saggar-render beside the running program.
Layout lay_out(const Diagram& diagram, const ChildLimits& limits = {}, const std::string& program = {});

}  // namespace saggar::viz
