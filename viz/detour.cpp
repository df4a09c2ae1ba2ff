#include "viz/detour.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>
#include <tuple>

namespace saggar::viz {

namespace {

constexpr double kHead = 10;                    // length of an arrow head
constexpr double kStub = 22, kShortStub = 14;   // a line runs straight so far from a side of its box
constexpr double kFromBox = 8, kFromWords = 5;  // kept from boxes and words
constexpr double kLane = 4;
constexpr double kNearBy = 240;      // px round the line as it ran within which corners are looked for
constexpr std::size_t kMostTurns = 900;
constexpr double kBend = 24;         // px that a right angle costs
constexpr double kTakenPort = 30;    // px that a place where another line ends costs
constexpr double kSmoothFrom = 4.5;  // rounded corners keep this much from boxes and words

double distance(const Point& a, const Point& b) { return std::hypot(a.x - b.x, a.y - b.y); }
Point along(const Point& a, const Point& b, double share) { return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share}; }

struct Port {
    Point at, out;  // on the border, and the direction away from the box
};

std::vector<Port> ports_of(const Area& box) {
    std::vector<Port> ports;
    for (const double share : {0.5, 0.25, 0.75}) {
        const double x = box.left + (box.right - box.left) * share, y = box.top + (box.bottom - box.top) * share;
        ports.push_back({{x, box.top}, {0, -1}});
        ports.push_back({{x, box.bottom}, {0, 1}});
        ports.push_back({{box.left, y}, {-1, 0}});
        ports.push_back({{box.right, y}, {1, 0}});
    }
    return ports;
}

Point away(const Port& port, double by) { return {port.at.x + port.out.x * by, port.at.y + port.out.y * by}; }

// Where the way may turn. Kinds: a corner, a port of the first or second box, a point beside the words.
struct Turn {
    enum Kind { corner, start, goal, beside_words } kind = corner;
    Point at;
    Port port;
    double cost = 0;
};

class Way {
public:
    Way(const Scene& scene, std::size_t line, int lane, bool past_words)
        : scene_(scene), line_(line), from_box_(kFromBox + kLane * lane), drawn_(scene.lines[line]) {
        gather_obstacles();
        gather_turns(past_words && scene.words[line].has_value());
    }

    std::vector<Point> find();

    // Is this piece clear of everything by the distance that rounded corners keep?
    bool clear(const Point& a, const Point& b) const {
        return std::none_of(clear_.begin(), clear_.end(), [&](const Area& area) { return enters(a, b, area); });
    }

private:
    struct Entry {
        double guess = 0;
        std::size_t state = 0;
        bool operator>(const Entry& o) const { return std::tie(guess, state) > std::tie(o.guess, o.state); }
    };

    void gather_obstacles() {
        const auto near = [this](const Area& area) {
            const Area wide = area.grown(kNearBy);
            if (area.meets(scene_.boxes[drawn_.from].grown(kNearBy)) || area.meets(scene_.boxes[drawn_.to].grown(kNearBy)))
                return true;
            for (std::size_t i = 0; i + 1 < drawn_.points.size(); ++i) {
                if (enters(drawn_.points[i], drawn_.points[i + 1], wide)) return true;
            }
            return false;
        };
        const auto add = [&](const Area& area, double keep) {
            if (!near(area)) return;
            clear_.push_back(area.grown(kSmoothFrom));
            shut_.push_back(area.grown(keep - 0.5));
        };
        for (const auto& box : scene_.boxes) add(box, from_box_);
        for (std::size_t i = 0; i < scene_.words.size(); ++i) {
            if (scene_.words[i]) add(*scene_.words[i], kFromWords);
        }
    }

    bool blocked(const Point& p) const {
        return std::any_of(shut_.begin(), shut_.end(), [&](const Area& a) { return a.holds(p); });
    }
    bool blocked(const Point& a, const Point& b) const {
        return std::any_of(shut_.begin(), shut_.end(), [&](const Area& area) { return enters(a, b, area); });
    }

    void add_ports(std::size_t box, Turn::Kind kind) {
        for (const auto& port : ports_of(scene_.boxes[box])) {
            for (const double length : {kStub, kShortStub}) {
                const Point at = away(port, length);
                if (blocked(at)) continue;
                double cost = 0;
                for (std::size_t i = 0; i < scene_.lines.size(); ++i) {
                    const auto& points = scene_.lines[i].points;
                    if (i == line_ || points.empty()) continue;
                    if (distance(points.front(), port.at) < kHead || distance(points.back(), port.at) < kHead)
                        cost += kTakenPort;
                }
                turns_.push_back({kind, at, port, cost});
                break;
            }
        }
    }

    void gather_turns(bool past_words) {
        add_ports(drawn_.from, Turn::start);
        add_ports(drawn_.to, Turn::goal);
        for (const auto& shut : shut_) {
            const Area a = shut.grown(0.5);
            for (const Point& p : {Point{a.left, a.top}, Point{a.right, a.top}, Point{a.left, a.bottom}, Point{a.right, a.bottom}})
                if (!blocked(p)) turns_.push_back({Turn::corner, p, {}, 0});
        }
        if (!past_words) return;
        must_pass_ = true;
        const Area a = scene_.words[line_]->grown(kFromWords);
        const double x = (a.left + a.right) / 2, y = (a.top + a.bottom) / 2;
        for (const Point& p : {Point{a.left, y}, Point{a.right, y}, Point{x, a.top}, Point{x, a.bottom}})
            if (!blocked(p)) turns_.push_back({Turn::beside_words, p, {}, 0});
    }

    double bend(const Point& before, const Point& at, const Point& after) const {
        const double one = distance(before, at), two = distance(at, after);
        if (one < 1e-6 || two < 1e-6) return 0;
        const double cosine =
            ((at.x - before.x) * (after.x - at.x) + (at.y - before.y) * (after.y - at.y)) / (one * two);
        return kBend * (1 - cosine);
    }

    const Scene& scene_;
    std::size_t line_;
    double from_box_;
    const DrawnLine& drawn_;
    bool must_pass_ = false;
    std::vector<Area> clear_, shut_;  // what rounded corners and straight pieces keep out of
    std::vector<Turn> turns_;
};

// A* over (turn, words passed or not); the guess is the straight distance to the second box.
std::vector<Point> Way::find() {
    const std::size_t count = turns_.size();
    if (count > kMostTurns) return {};
    constexpr double kFar = std::numeric_limits<double>::infinity();
    constexpr auto kNone = static_cast<std::size_t>(-1);
    std::vector<double> cost(2 * count, kFar);
    std::vector<std::size_t> before(2 * count, kNone);
    std::vector<bool> done(2 * count, false);
    const Area& goal = scene_.boxes[drawn_.to];
    const auto guess = [&goal](const Point& p) {
        return std::hypot(std::max({goal.left - p.x, 0.0, p.x - goal.right}), std::max({goal.top - p.y, 0.0, p.y - goal.bottom}));
    };
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    for (std::size_t i = 0; i < count; ++i) {
        if (turns_[i].kind != Turn::start) continue;
        const std::size_t state = i + (must_pass_ ? 0 : count);
        cost[state] = turns_[i].cost;
        open.push({cost[state] + guess(turns_[i].at), state});
    }
    while (!open.empty()) {
        const std::size_t state = open.top().state;
        open.pop();
        if (done[state]) continue;
        done[state] = true;
        const Turn& here = turns_[state % count];
        if (here.kind == Turn::goal) {
            std::vector<Point> way;
            std::size_t first = state;
            for (std::size_t s = state; s != kNone; s = before[s]) {
                way.push_back(turns_[s % count].at);
                first = s;
            }
            way.push_back(turns_[first % count].port.at);
            std::reverse(way.begin(), way.end());
            way.push_back(here.port.at);
            return way;
        }
        const Point last = before[state] == kNone ? here.port.at : turns_[before[state] % count].at;
        for (std::size_t i = 0; i < count; ++i) {
            const Turn& next = turns_[i];
            if (next.kind == Turn::start) continue;
            const bool passed = state >= count || next.kind == Turn::beside_words;
            if (next.kind == Turn::goal && !passed) continue;
            const std::size_t to = i + (passed ? count : 0);
            if (done[to]) continue;
            double through = cost[state] + distance(here.at, next.at) + bend(last, here.at, next.at) + next.cost;
            if (next.kind == Turn::goal) through += bend(here.at, next.at, next.port.at);
            if (through >= cost[to] || blocked(here.at, next.at)) continue;
            cost[to] = through;
            before[to] = state;
            open.push({through + guess(next.at), to});
        }
    }
    return {};
}

void straight_on(std::vector<Point>& curve, const Point& to) {
    const Point from = curve.back();
    curve.push_back(along(from, to, 1.0 / 3));
    curve.push_back(along(from, to, 2.0 / 3));
    curve.push_back(to);
}

// One corner as a curve that begins and ends `reach` away from it.
std::vector<Point> rounded(const Point& from, const Point& corner, const Point& to) {
    return {from, along(from, corner, 0.7), along(to, corner, 0.7), to};
}

bool keeps_clear(const Way& way, const std::vector<Point>& curve) {
    EdgePosition piece;
    piece.curve = curve;
    const auto points = flattened(piece);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        if (!way.clear(points[i], points[i + 1])) return false;
    }
    return true;
}

// Every corner is rounded as widely as half its shorter side allows and as there is room.
std::vector<Point> smooth(const Way& way, const std::vector<Point>& corners) {
    std::vector<Point> curve = {corners.front()};
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
        const Point &a = corners[i - 1], &b = corners[i], &c = corners[i + 1];
        const double one = distance(a, b), two = distance(b, c);
        if (one < 1e-6 || two < 1e-6) continue;
        std::vector<Point> turn;
        const double before = i == 1 ? one * 0.9 : one / 2, after = i + 2 == corners.size() ? two * 0.9 : two / 2;
        for (double share = 1; share > 0.2; share /= 2) {
            turn = rounded(along(b, a, before * share / one), b, along(b, c, after * share / two));
            if (keeps_clear(way, turn)) break;
        }
        straight_on(curve, turn.front());
        curve.insert(curve.end(), turn.begin() + 1, turn.end());
    }
    straight_on(curve, corners.back());
    return curve;
}

}  // namespace

std::optional<EdgePosition> detour(const Scene& scene, std::size_t line, const EdgePosition& position, int lane,
                                   bool past_words) {
    if (scene.lines[line].from == scene.lines[line].to) return std::nullopt;
    Way way(scene, line, lane, past_words);
    auto corners = way.find();
    if (corners.size() < 3) return std::nullopt;
    EdgePosition found;
    found.label = position.label;
    if (position.head_tip) {
        found.head_tip = corners.back();
        const Point& before = corners[corners.size() - 2];
        corners.back() = along(corners.back(), before, kHead / distance(corners.back(), before));
    }
    if (position.tail_tip) {
        found.tail_tip = corners.front();
        corners.front() = along(corners.front(), corners[1], kHead / distance(corners.front(), corners[1]));
    }
    found.curve = smooth(way, corners);
    return found;
}

std::optional<Point> place_beside(const Scene& scene, std::size_t line, double width, double height) {
    const auto& points = scene.lines[line].points;
    const std::size_t middle = points.size() / 2;
    for (std::size_t far = 0; far < points.size(); ++far) {  // from the middle outwards
        for (const bool onward : {true, false}) {
            if (onward ? middle + far + 1 >= points.size() : far == 0 || middle <= far) continue;
            const Point& p = points[onward ? middle + far : middle - far];
            for (const double gap : {4.0, 9.0}) {
                const double dx = width / 2 + gap, dy = height / 2 + gap;
                for (const Point& at : {Point{p.x + dx, p.y}, Point{p.x - dx, p.y}, Point{p.x, p.y - dy},
                                        Point{p.x, p.y + dy}, Point{p.x + dx, p.y - dy}, Point{p.x - dx, p.y - dy},
                                        Point{p.x + dx, p.y + dy}, Point{p.x - dx, p.y + dy}}) {
                    if (clashes_of_words(scene, line, area_round(at, width + 4, height + 2)) == 0) return at;
                }
            }
        }
    }
    return std::nullopt;
}

}  // namespace saggar::viz
