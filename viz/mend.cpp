#include "viz/mend.h"

#include <algorithm>
#include <cmath>

#include "viz/detour.h"

namespace saggar::viz {

namespace {

constexpr int kRounds = 3, kLanes = 3;
constexpr double kEdge = 4;  // px between the outermost line and the edge of the sheet

// Everything is moved and the sheet made larger until nothing lies outside.
void fit(const Scene& scene, Positions& positions) {
    Area all{0, 0, positions.width, positions.height};
    const auto cover = [&all](const Area& a) {
        all = {std::min(all.left, a.left), std::min(all.top, a.top), std::max(all.right, a.right),
               std::max(all.bottom, a.bottom)};
    };
    for (const auto& box : scene.boxes) cover(box);
    for (const auto& line : scene.lines) {
        if (line.bounds.left < 0 || line.bounds.top < 0 || line.bounds.right > positions.width ||
            line.bounds.bottom > positions.height)
            cover(line.bounds.grown(kEdge));
    }
    for (const auto& words : scene.words) {
        if (words) cover(*words);
    }
    const double dx = -all.left, dy = -all.top;
    positions.width = all.right - all.left;
    positions.height = all.bottom - all.top;
    if (dx == 0 && dy == 0) return;
    const auto move = [dx, dy](Point& p) {
        p.x += dx;
        p.y += dy;
    };
    for (auto& node : positions.nodes) move(node);
    for (auto& edge : positions.edges) {
        if (edge.label) move(*edge.label);
        for (auto& p : edge.curve) move(p);
        if (edge.tail_tip) move(*edge.tail_tip);
        if (edge.head_tip) move(*edge.head_tip);
    }
}

struct Mender {
    const std::vector<Block>& blocks;
    const std::vector<Ends>& ends;
    Positions& positions;
    Scene& scene;

    void take(std::size_t line, const EdgePosition& position) {
        positions.edges[line] = position;
        scene.lines[line] = drawn_line(ends[line], position);
        if (scene.words[line]) put_words(line, *position.label);
    }

    void put_words(std::size_t line, const Point& centre) {
        positions.edges[line].label = centre;
        scene.words[line] = area_round(centre, blocks[line].width, blocks[line].height);
    }

    // The first way that is clear, past the words where they stand or else with the words moved to it.
    bool lead_round(std::size_t line) {
        const std::size_t now = clashes_of_line(scene, line, scene.lines[line]);
        if (now == 0) return false;
        for (int lane = 0; lane < kLanes; ++lane) {
            const auto found = detour(scene, line, positions.edges[line], (static_cast<int>(line) + lane) % kLanes, true);
            if (!found || clashes_of_line(scene, line, drawn_line(ends[line], *found)) > 0) continue;
            take(line, *found);
            return true;
        }
        return scene.words[line] && lead_with_words(line);
    }

    bool lead_with_words(std::size_t line) {
        const auto line_before = positions.edges[line];
        const auto words_before = scene.words[line];
        scene.words[line].reset();  // they go where the line goes
        for (int lane = 0; lane < kLanes; ++lane) {
            auto found = detour(scene, line, line_before, (static_cast<int>(line) + lane) % kLanes, false);
            if (!found || clashes_of_line(scene, line, drawn_line(ends[line], *found)) > 0) continue;
            scene.lines[line] = drawn_line(ends[line], *found);
            const auto place = place_beside(scene, line, blocks[line].width, blocks[line].height);
            if (!place) continue;
            found->label = place;
            scene.words[line] = words_before;
            take(line, *found);
            return true;
        }
        scene.words[line] = words_before;
        scene.lines[line] = drawn_line(ends[line], line_before);
        return false;
    }

    bool move_words(std::size_t line) {
        if (!scene.words[line] || clashes_of_words(scene, line, *scene.words[line]) == 0) return false;
        const auto place = place_beside(scene, line, blocks[line].width, blocks[line].height);
        if (!place) return false;
        put_words(line, *place);
        return true;
    }
};

}  // namespace

std::size_t mend(const std::vector<Box>& boxes, const std::vector<Block>& blocks, const std::vector<Ends>& ends,
                 Positions& positions) {
    Scene scene = scene_of(boxes, blocks, ends, positions);
    if (clashes(scene) == 0) return 0;
    // While mending, lines may leave the sheet: it grows afterwards.
    scene.sheet = scene.sheet.grown(1e9);
    Mender mender{blocks, ends, positions, scene};
    for (int round = 0; round < kRounds; ++round) {
        bool changed = false;
        for (std::size_t i = 0; i < ends.size(); ++i) changed |= mender.lead_round(i);
        for (std::size_t i = 0; i < ends.size(); ++i) changed |= mender.move_words(i);
        if (!changed) break;
    }
    fit(scene, positions);
    return clashes(scene_of(boxes, blocks, ends, positions));
}

}  // namespace saggar::viz
