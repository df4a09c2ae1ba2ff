// What the layout program answers: where each box and line goes. In px, y downwards, origin at the top left.
//
// Its text form, one item a line, numbers with one decimal:
//
//   saggar-layout 1
//   size WIDTH HEIGHT
//   node INDEX X Y                            centre of the box
//   edge INDEX LABEL POINTS TAIL HEAD         LABEL: "-" or "X,Y"; POINTS: "X,Y;X,Y;…", 3n+1 Bezier points;
//                                             TAIL, HEAD: "-" or "X,Y", the tips of arrow heads
//   end
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace saggar::viz {

struct Point {
    double x = 0, y = 0;
    bool operator==(const Point&) const = default;
};

struct EdgePosition {
    std::optional<Point> label;  // centre of the words beside the line
    std::vector<Point> curve;    // cubic Bezier: first point, then groups of three
    std::optional<Point> tail_tip, head_tip;
};

struct Positions {
    double width = 0, height = 0;
    std::vector<Point> nodes;
    std::vector<EdgePosition> edges;
};

std::string to_text(const Positions& positions);

// Throws LimitFault where the text is not such an answer or names other boxes and lines than asked for.
Positions parse_positions(std::string_view text, std::size_t nodes, std::size_t edges);

}  // namespace saggar::viz
