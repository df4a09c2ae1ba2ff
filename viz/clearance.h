// Does a laid-out drawing keep its parts apart?
//
// A drawing can be read when no line runs through or along a box that is not its end, no words lie on a box, on other
// words or under a line, and nothing leaves the sheet. This is asked of the geometry alone, before anything is drawn.
// Cost: boxes and words by lines, with bounding boxes first; 400 boxes and 800 lines: about 20 ms.
#pragma once

#include <optional>
#include <vector>

#include "viz/block.h"
#include "viz/render/positions.h"

namespace saggar::viz {

// px, y downwards.
struct Area {
    double left = 0, top = 0, right = 0, bottom = 0;
    Area grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
    bool holds(const Point& p) const { return p.x > left && p.x < right && p.y > top && p.y < bottom; }
    bool meets(const Area& o) const { return left < o.right && o.left < right && top < o.bottom && o.top < bottom; }
};
Area area_round(const Point& centre, double width, double height);

// Does the straight piece from `a` to `b` enter the area?
bool enters(const Point& a, const Point& b, const Area& area);

// A line as the eye sees it: its curve in short straight pieces, with the tips of its heads.
struct DrawnLine {
    std::size_t from = 0, to = 0;  // boxes
    std::vector<Point> points;
    Area bounds;
};
std::vector<Point> flattened(const EdgePosition& position);

struct Scene {
    Area sheet;
    std::vector<Area> boxes;
    std::vector<std::optional<Area>> words;  // one per line
    std::vector<DrawnLine> lines;
};

// Which two boxes a line joins.
struct Ends {
    std::size_t from = 0, to = 0;
};
Scene scene_of(const std::vector<Box>& boxes, const std::vector<Block>& blocks, const std::vector<Ends>& ends,
               const Positions& positions);
DrawnLine drawn_line(const Ends& ends, const EdgePosition& position);

// px that a line keeps from a box that is not its end.
inline constexpr double kClearance = 3;

// How often the line (not its words) runs through or along a box, or through words.
std::size_t clashes_of_line(const Scene& scene, std::size_t line, const DrawnLine& drawn);
// How often these words of the line lie on a box or on others' words, under a line, or off the sheet.
std::size_t clashes_of_words(const Scene& scene, std::size_t line, const Area& words);
// All of the scene, boxes upon boxes included. 0: it can be read.
std::size_t clashes(const Scene& scene);

}  // namespace saggar::viz
