#include "viz/clearance.h"

#include <algorithm>
#include <cmath>

namespace saggar::viz {

namespace {

constexpr int kPieces = 12;     // straight pieces to a Bezier
constexpr double kTouch = 1;    // px that a line may reach into its own box or its own words
constexpr double kOffSheet = 1;

void reach(Area& bounds, const Point& p) {
    bounds.left = std::min(bounds.left, p.x);
    bounds.right = std::max(bounds.right, p.x);
    bounds.top = std::min(bounds.top, p.y);
    bounds.bottom = std::max(bounds.bottom, p.y);
}

bool line_enters(const DrawnLine& line, const Area& area) {
    if (!line.bounds.meets(area)) return false;
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        if (enters(line.points[i], line.points[i + 1], area)) return true;
    }
    return false;
}

bool leaves(const Area& area, const Scene& scene) {
    const Area sheet = scene.sheet.grown(kOffSheet);
    return area.left < sheet.left || area.top < sheet.top || area.right > sheet.right || area.bottom > sheet.bottom;
}

}  // namespace

Area area_round(const Point& centre, double width, double height) {
    return {centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2};
}

// Liang and Barsky, "A new concept and method for line clipping" (1984).
bool enters(const Point& a, const Point& b, const Area& area) {
    double first = 0, last = 1;
    const auto clip = [&](double step, double room) {
        if (step == 0) return room > 0;
        const double at = room / step;
        if (step < 0) {
            first = std::max(first, at);
        } else {
            last = std::min(last, at);
        }
        return first < last;
    };
    const double dx = b.x - a.x, dy = b.y - a.y;
    if (dx == 0 && dy == 0) return area.holds(a);
    return clip(-dx, a.x - area.left) && clip(dx, area.right - a.x) && clip(-dy, a.y - area.top) &&
           clip(dy, area.bottom - a.y);
}

std::vector<Point> flattened(const EdgePosition& position) {
    std::vector<Point> points;
    const auto& curve = position.curve;
    if (curve.empty()) return points;
    if (position.tail_tip) points.push_back(*position.tail_tip);
    points.push_back(curve.front());
    for (std::size_t i = 0; i + 3 < curve.size(); i += 3) {
        for (int k = 1; k <= kPieces; ++k) {
            const double t = static_cast<double>(k) / kPieces, s = 1 - t;
            const double w[] = {s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t};
            Point p;
            for (std::size_t j = 0; j < 4; ++j) {
                p.x += w[j] * curve[i + j].x;
                p.y += w[j] * curve[i + j].y;
            }
            points.push_back(p);
        }
    }
    if (position.head_tip) points.push_back(*position.head_tip);
    return points;
}

DrawnLine drawn_line(const Ends& ends, const EdgePosition& position) {
    DrawnLine line{ends.from, ends.to, flattened(position), {}};
    if (line.points.empty()) return line;
    line.bounds = {line.points[0].x, line.points[0].y, line.points[0].x, line.points[0].y};
    for (const auto& p : line.points) reach(line.bounds, p);
    line.bounds = line.bounds.grown(0.01);  // a straight line has room too
    return line;
}

Scene scene_of(const std::vector<Box>& boxes, const std::vector<Block>& blocks, const std::vector<Ends>& ends,
               const Positions& positions) {
    Scene scene;
    scene.sheet = {0, 0, positions.width, positions.height};
    for (std::size_t i = 0; i < boxes.size(); ++i)
        scene.boxes.push_back(area_round(positions.nodes[i], boxes[i].width, boxes[i].height));
    for (std::size_t i = 0; i < ends.size(); ++i) {
        const auto& position = positions.edges[i];
        std::optional<Area> words;
        if (position.label && !blocks[i].empty())
            words = area_round(*position.label, blocks[i].width, blocks[i].height);
        scene.words.push_back(words);
        scene.lines.push_back(drawn_line(ends[i], position));
    }
    return scene;
}

std::size_t clashes_of_line(const Scene& scene, std::size_t line, const DrawnLine& drawn) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < scene.boxes.size(); ++i) {
        const bool own = i == drawn.from || i == drawn.to;
        count += line_enters(drawn, scene.boxes[i].grown(own ? -kTouch : kClearance));
    }
    for (std::size_t i = 0; i < scene.words.size(); ++i) {
        if (scene.words[i]) count += line_enters(drawn, scene.words[i]->grown(i == line ? -kTouch : 0));
    }
    return count + leaves(drawn.bounds, scene);
}

std::size_t clashes_of_words(const Scene& scene, std::size_t line, const Area& words) {
    std::size_t count = leaves(words, scene);
    for (const auto& box : scene.boxes) count += words.meets(box);
    for (std::size_t i = 0; i < scene.words.size(); ++i)
        count += i != line && scene.words[i] && words.meets(*scene.words[i]);
    for (std::size_t i = 0; i < scene.lines.size(); ++i)
        count += line_enters(scene.lines[i], i == line ? words.grown(-kTouch) : words);
    return count;
}

std::size_t clashes(const Scene& scene) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < scene.boxes.size(); ++i) {
        count += leaves(scene.boxes[i], scene);
        for (std::size_t j = i + 1; j < scene.boxes.size(); ++j) count += scene.boxes[i].meets(scene.boxes[j]);
    }
    for (std::size_t i = 0; i < scene.lines.size(); ++i) {
        count += clashes_of_line(scene, i, scene.lines[i]);
        if (!scene.words[i]) continue;
        count += leaves(*scene.words[i], scene);
        for (const auto& box : scene.boxes) count += scene.words[i]->meets(box);
        for (std::size_t j = i + 1; j < scene.words.size(); ++j)
            count += scene.words[j] && scene.words[i]->meets(*scene.words[j]);
    }
    return count;
}

}  // namespace saggar::viz
