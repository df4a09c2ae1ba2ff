#include "drawn.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <optional>
#include <pugixml.hpp>

#include "viz/text/measure.h"

namespace saggar::testing {

namespace {

struct Spot {
    double x, y;
};
struct Area {
    double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
    void cover(double x, double y) {
        left = std::min(left, x);
        right = std::max(right, x);
        top = std::min(top, y);
        bottom = std::max(bottom, y);
    }
    bool empty() const { return right < left; }
    double off(const Spot& s) const {  // 0 inside, else the distance
        return std::hypot(std::max({left - s.x, 0.0, s.x - right}), std::max({top - s.y, 0.0, s.y - bottom}));
    }
};
bool meet(const Area& a, const Area& b) {
    return !a.empty() && !b.empty() && a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

// Numbers and letters of path data; all commands here are absolute.
std::vector<double> numbers(const std::string& text) {
    std::vector<double> found;
    const char* at = text.c_str();
    while (*at != '\0') {
        char* end = nullptr;
        const double value = std::strtod(at, &end);
        if (end == at) {
            ++at;
        } else {
            found.push_back(value);
            at = end;
        }
    }
    return found;
}

// The path M p (C a b c)…, a spot at least every half px.
std::vector<Spot> walked(const std::string& data) {
    const auto n = numbers(data);
    std::vector<Spot> spots;
    for (std::size_t i = 0; i + 7 < n.size(); i += 6) {
        const double length = std::hypot(n[i + 2] - n[i], n[i + 3] - n[i + 1]) +
                              std::hypot(n[i + 4] - n[i + 2], n[i + 5] - n[i + 3]) +
                              std::hypot(n[i + 6] - n[i + 4], n[i + 7] - n[i + 5]);
        const int steps = std::max(1, static_cast<int>(length * 2));
        for (int k = 0; k <= steps; ++k) {
            const double t = static_cast<double>(k) / steps, s = 1 - t;
            const auto mix = [&](std::size_t j) {
                return s * s * s * n[i + j] + 3 * s * s * t * n[i + j + 2] + 3 * s * t * t * n[i + j + 4] +
                       t * t * t * n[i + j + 6];
            };
            spots.push_back({mix(0), mix(1)});
        }
    }
    return spots;
}

struct Part {
    std::string id;
    Area outline;                 // of a box
    Area words;                   // all its text and badges
    std::vector<std::vector<Spot>> strokes;
    std::vector<Spot> head;       // corners of its arrow head or bar
};

void cover_text(Area& area, const pugi::xml_node& text) {
    const double size = text.attribute("font-size").as_double(), x = text.attribute("x").as_double();
    const auto face = std::string(text.attribute("font-weight").value()) == "bold" ? viz::Face::bold : viz::Face::book;
    const double width = viz::text_width(text.child_value(), size, face), y = text.attribute("y").as_double();
    const bool middle = std::string(text.attribute("text-anchor").value()) == "middle";
    area.cover(middle ? x - width / 2 : x, y - 0.76 * size);
    area.cover(middle ? x + width / 2 : x + width, y + 0.24 * size);
}

void cover_rect(Area& area, const pugi::xml_node& rect) {
    const double x = rect.attribute("x").as_double(), y = rect.attribute("y").as_double();
    area.cover(x, y);
    area.cover(x + rect.attribute("width").as_double(), y + rect.attribute("height").as_double());
}

void cover_circle(Area& area, const pugi::xml_node& circle) {
    const double r = circle.attribute("r").as_double();
    area.cover(circle.attribute("cx").as_double() - r, circle.attribute("cy").as_double() - r);
    area.cover(circle.attribute("cx").as_double() + r, circle.attribute("cy").as_double() + r);
}

Part read_box(const pugi::xml_node& group) {
    Part box;
    box.id = group.attribute("id").value();
    bool first = true;
    for (const auto& child : group.children()) {
        const std::string name = child.name();
        if (name == "text") cover_text(box.words, child);
        if (name == "rect" && first) cover_rect(box.outline, child);
        if (name == "path" && first) {
            const auto n = numbers(child.attribute("d").value());
            for (std::size_t i = 0; i + 1 < n.size(); i += 2) box.outline.cover(n[i], n[i + 1]);
        }
        if (name == "rect" || name == "path") first = false;
        if (name == "circle") cover_circle(box.words, child);
    }
    if (box.outline.empty()) box.outline = box.words;  // a value stands without a border
    return box;
}

Part read_line(const pugi::xml_node& group) {
    Part line;
    line.id = group.attribute("id").value();
    for (const auto& child : group.children()) {
        const std::string name = child.name();
        if (name == "text") cover_text(line.words, child);
        if (name == "circle") cover_circle(line.words, child);
        if (name == "rect" && !child.attribute("fill-opacity")) cover_rect(line.words, child);
        if (name == "path") {
            const std::string data = child.attribute("d").value();
            if (data.find('C') != std::string::npos) {
                line.strokes.push_back(walked(data));
            } else {
                const auto n = numbers(data);
                for (std::size_t i = 0; i + 1 < n.size(); i += 2) line.head.push_back({n[i], n[i + 1]});
            }
        }
        if (name == "line") {
            line.head.push_back({child.attribute("x1").as_double(), child.attribute("y1").as_double()});
            line.head.push_back({child.attribute("x2").as_double(), child.attribute("y2").as_double()});
        }
    }
    return line;
}

class Reader {
public:
    explicit Reader(const std::string& svg) {
        document_.load_buffer(svg.data(), svg.size());
        const auto root = document_.document_element();
        sheet_ = {0, 0, root.attribute("width").as_double(), root.attribute("height").as_double()};
        visit(root);
    }

    std::vector<std::string> faults() {
        for (std::size_t i = 0; i < boxes_.size(); ++i) judge_box(i);
        for (std::size_t i = 0; i < lines_.size(); ++i) judge_line(i);
        for (const auto& shared : shared_) judge_shared(shared);
        return faults_;
    }

private:
    void visit(const pugi::xml_node& node) {
        const std::string kind = node.attribute("class").value();
        if (kind == "node") {
            boxes_.push_back(read_box(node));
        } else if (kind == "line") {
            lines_.push_back(read_line(node));
        } else if (kind == "shared") {
            shared_.push_back(read_line(node));
        } else {
            if (std::string(node.name()) == "text") {
                Area area;
                cover_text(area, node);
                inside(area, "the words \"" + std::string(node.child_value()) + "\"");
            }
            for (const auto& child : node.children()) visit(child);
        }
    }

    void add(const std::string& fault) { faults_.push_back(fault); }

    void inside(const Area& area, const std::string& what) {
        if (area.empty()) return;
        if (area.left < 0 || area.top < 0 || area.right > sheet_.right || area.bottom > sheet_.bottom)
            add(what + " reaches outside the sheet");
    }

    void judge_box(std::size_t i) {
        const auto& box = boxes_[i];
        inside(box.outline, "box " + box.id);
        if (!box.words.empty() && (box.words.left < box.outline.left || box.words.right > box.outline.right ||
                                   box.words.top < box.outline.top || box.words.bottom > box.outline.bottom))
            add("the words of box " + box.id + " reach outside it");
        for (std::size_t j = i + 1; j < boxes_.size(); ++j) {
            if (meet(box.outline, boxes_[j].outline)) add(fmt::format("box {} overlaps box {}", box.id, boxes_[j].id));
        }
    }

    // The ends of a line are the boxes nearest to the ends of its stroke and head: at most 12 px away.
    std::vector<bool> ends_of(const Part& line) const {
        std::vector<bool> is_end(boxes_.size(), false);
        const auto mark = [&](const std::vector<Spot>& spots, double most) {
            std::size_t best = boxes_.size();
            double nearest = most;
            for (const auto& spot : spots) {
                for (std::size_t i = 0; i < boxes_.size(); ++i) {
                    if (boxes_[i].outline.off(spot) < nearest) {
                        nearest = boxes_[i].outline.off(spot);
                        best = i;
                    }
                }
            }
            if (best < boxes_.size()) is_end[best] = true;
        };
        for (const auto& stroke : line.strokes) {
            if (stroke.empty()) continue;
            mark({stroke.front()}, 3);
            auto head = line.head;
            head.push_back(stroke.back());
            mark(head, 3);
        }
        return is_end;
    }

    void judge_strokes(const Part& line, const std::vector<bool>& is_end, std::size_t own) {
        for (const auto& stroke : line.strokes) {
            for (const auto& spot : stroke) {
                if (sheet_.off(spot) > 0) add("line " + line.id + " reaches outside the sheet");
            }
        }
        for (std::size_t i = 0; i < boxes_.size(); ++i) {
            const double keep = 3;
            bool through = false;
            for (const auto& stroke : line.strokes) {
                through |= std::any_of(stroke.begin(), stroke.end(), [&](const Spot& spot) {
                    const Area& a = boxes_[i].outline;
                    if (!is_end[i]) return a.off(spot) < keep;
                    return spot.x > a.left + 2 && spot.x < a.right - 2 && spot.y > a.top + 2 && spot.y < a.bottom - 2;
                });
            }
            if (through) add("line " + line.id + " runs through or along box " + boxes_[i].id);
        }
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            if (i == own || lines_[i].words.empty()) continue;
            bool through = false;
            for (const auto& stroke : line.strokes) {
                through |= std::any_of(stroke.begin(), stroke.end(),
                                       [&](const Spot& spot) { return lines_[i].words.off(spot) == 0; });
            }
            if (through) add("line " + line.id + " crosses the words of line " + lines_[i].id);
        }
    }

    void judge_line(std::size_t i) {
        const auto& line = lines_[i];
        if (line.strokes.empty()) add("line " + line.id + " has no stroke");
        judge_strokes(line, ends_of(line), i);
        if (line.words.empty()) return;
        inside(line.words, "the words of line " + line.id);
        for (const auto& box : boxes_) {
            if (meet(line.words, box.outline)) add("the words of line " + line.id + " lie on box " + box.id);
        }
        for (std::size_t j = i + 1; j < lines_.size(); ++j) {
            if (meet(line.words, lines_[j].words))
                add("the words of line " + line.id + " lie on those of line " + lines_[j].id);
        }
    }

    // What several claims share begins at a hub's box and ends where the branches do.
    void judge_shared(const Part& shared) {
        for (const auto& stroke : shared.strokes) {
            Part one;
            one.id = "shared";
            one.strokes = {stroke};
            judge_strokes(one, ends_of(one), lines_.size());
        }
    }

    pugi::xml_document document_;
    Area sheet_;
    std::vector<Part> boxes_, lines_, shared_;
    std::vector<std::string> faults_;
};

}  // namespace

std::vector<std::string> faults_of_svg(const std::string& svg) { return Reader(svg).faults(); }

}  // namespace saggar::testing
