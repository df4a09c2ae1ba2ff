#include "viz/svg_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/text/clean.h"

namespace saggar::viz {

namespace {

constexpr double kAscent = 1.006;  // base line below the top of a line of type, as a multiple of the type size

std::string path_number(double value) { return number(value); }

std::string at(double x, double y) { return path_number(x) + "," + path_number(y); }

void write_path(XmlWriter& svg, std::string_view data, std::string_view fill, std::string_view stroke, double width) {
    svg.open("path")
        .attribute("d", data)
        .attribute("fill", fill)
        .attribute("stroke", stroke)
        .attribute("stroke-width", width);
    svg.close();
}

void write_rule(XmlWriter& svg, double x1, double y1, double x2, double y2, std::string_view stroke, double width) {
    svg.open("line").attribute("x1", x1).attribute("y1", y1).attribute("x2", x2).attribute("y2", y2);
    svg.attribute("stroke", stroke).attribute("stroke-width", width).close();
}

// The closed border of an outline as SVG path data.
std::string border_path(Outline outline, const Rect& r) {
    const double right = r.x + r.width, bottom = r.y + r.height, middle = r.y + r.height / 2;
    switch (outline) {
        case Outline::hexagon:
            return "M" + at(r.x + 13, r.y) + " L" + at(right - 13, r.y) + " L" + at(right, middle) + " L" +
                   at(right - 13, bottom) + " L" + at(r.x + 13, bottom) + " L" + at(r.x, middle) + " Z";
        case Outline::slanted:
            return "M" + at(r.x + 13, r.y) + " L" + at(right, r.y) + " L" + at(right - 13, bottom) + " L" +
                   at(r.x, bottom) + " Z";
        case Outline::octagon:
            return "M" + at(r.x + 9, r.y) + " L" + at(right - 9, r.y) + " L" + at(right, r.y + 9) + " L" +
                   at(right, bottom - 9) + " L" + at(right - 9, bottom) + " L" + at(r.x + 9, bottom) + " L" +
                   at(r.x, bottom - 9) + " L" + at(r.x, r.y + 9) + " Z";
        case Outline::folded:
            return "M" + at(r.x, r.y) + " L" + at(right - 13, r.y) + " L" + at(right, r.y + 13) + " L" +
                   at(right, bottom) + " L" + at(r.x, bottom) + " Z M" + at(right - 13, r.y) + " L" +
                   at(right - 13, r.y + 13) + " L" + at(right, r.y + 13);
        default:
            return {};
    }
}

double corner_of(Outline outline, const Rect& rect) {
    if (outline == Outline::pill) return std::min(rect.height / 2, 40.0);
    return outline == Outline::rounded ? 9 : 0;
}

// Rules added inside a rectangular border.
void write_rules(XmlWriter& svg, Outline outline, const Rect& r, std::string_view stroke) {
    const double right = r.x + r.width, bottom = r.y + r.height;
    if (outline == Outline::lintel) write_rule(svg, r.x, r.y + 2.5, right, r.y + 2.5, stroke, 5);
    if (outline == Outline::footed) write_rule(svg, r.x, bottom - 2.5, right, bottom - 2.5, stroke, 5);
    if (outline == Outline::card || outline == Outline::framed)
        write_rule(svg, r.x + 6, r.y, r.x + 6, bottom, stroke, 1.2);
    if (outline == Outline::framed) write_rule(svg, right - 6, r.y, right - 6, bottom, stroke, 1.2);
}

struct Direction {
    double x, y;
};

Direction direction(const Point& from, const Point& to) {
    const double dx = to.x - from.x, dy = to.y - from.y;
    const double length = std::hypot(dx, dy);
    if (length < 1e-6) return {0, 1};
    return {dx / length, dy / length};
}

void write_triangle(XmlWriter& svg, const Point& base, const Point& tip, std::string_view colour, bool open) {
    const auto d = direction(base, tip);
    const double half = 5.5;
    const auto data = "M" + at(tip.x, tip.y) + " L" + at(base.x - d.y * half, base.y + d.x * half) + " L" +
                      at(base.x + d.y * half, base.y - d.x * half) + " Z";
    write_path(svg, data, open ? colour::paper : colour, colour, 1.3);
}

// The line goes on to the tip and ends in a bar across it.
void write_bar(XmlWriter& svg, const Point& base, const Point& tip, std::string_view colour) {
    const auto d = direction(base, tip);
    const double half = 9;
    const Point bar{tip.x - d.x * 3, tip.y - d.y * 3};
    write_rule(svg, base.x, base.y, bar.x, bar.y, colour, 2);
    write_rule(svg, bar.x - d.y * half, bar.y + d.x * half, bar.x + d.y * half, bar.y - d.x * half, colour, 4);
}

}  // namespace

void write_text_line(XmlWriter& svg, const TextLine& line, double x, double top, Anchor anchor) {
    svg.open("text").attribute("x", x).attribute("y", top + line.size * kAscent).attribute("font-size", line.size);
    if (line.face == Face::bold) svg.attribute("font-weight", "bold");
    if (anchor == Anchor::middle) svg.attribute("text-anchor", "middle");
    if (anchor == Anchor::middle && reads_right_to_left(line.text)) svg.attribute("direction", "rtl");
    svg.attribute("fill", line.quiet ? colour::grey : colour::ink).text(line.text).close();
}

void write_badge(XmlWriter& svg, Badge badge, double x, double top) {
    const bool against = badge == Badge::against || badge == Badge::disputed;
    const auto tint = badge == Badge::in_favour || badge == Badge::ruled ? colour::blue
                      : badge == Badge::caution                          ? colour::orange
                                                                         : colour::vermillion;
    const double middle = top + kBadgeHeight / 2;
    if (against) {
        svg.open("rect")
            .attribute("x", x + 1)
            .attribute("y", middle - 7)
            .attribute("width", 14)
            .attribute("height", 14);
    } else {
        svg.open("circle").attribute("cx", x + 8).attribute("cy", middle).attribute("r", 7.5);
    }
    svg.attribute("fill", colour::paper).attribute("stroke", tint).attribute("stroke-width", 1.8).close();
    write_text_line(svg, {std::string(badge_sign(badge)), 12, Face::bold, false}, x + 8,
                    middle - 12 * type_size::line / 2, Anchor::middle);
    write_text_line(svg, {std::string(badge_word(badge)), type_size::badge, Face::book, false}, x + 16 + 5,
                    middle - type_size::badge * type_size::line / 2, Anchor::start);
}

void write_block(XmlWriter& svg, const Block& block, double centre_x, double top) {
    for (const auto& line : block.lines) {
        write_text_line(svg, line, centre_x, top, Anchor::middle);
        top += line.size * type_size::line;
    }
    double row = -kBadgeGap;
    for (const Badge badge : block.badges) row += badge_width(badge) + kBadgeGap;
    double x = centre_x - row / 2;
    for (const Badge badge : block.badges) {
        write_badge(svg, badge, x, top + kBadgeGap);
        x += badge_width(badge) + kBadgeGap;
    }
}

void write_outline(XmlWriter& svg, Outline outline, const Rect& rect, bool focus) {
    if (outline == Outline::bare) return;
    const auto stroke = border_colour(outline);
    const double width = focus ? 3 : 1.5;
    if (const auto path = border_path(outline, rect); !path.empty()) {
        write_path(svg, path, colour::paper, stroke, width);
        return;
    }
    svg.open("rect")
        .attribute("x", rect.x)
        .attribute("y", rect.y)
        .attribute("width", rect.width)
        .attribute("height", rect.height);
    if (const double corner = corner_of(outline, rect); corner > 0) svg.attribute("rx", corner);
    svg.attribute("fill", colour::paper).attribute("stroke", stroke).attribute("stroke-width", width).close();
    write_rules(svg, outline, rect, stroke);
}

void write_line(XmlWriter& svg, const DiagramEdge& edge, const EdgePosition& position, const Point& offset) {
    const auto moved = [&offset](const Point& p) { return Point{p.x + offset.x, p.y + offset.y}; };
    const auto& curve = position.curve;
    if (curve.empty()) return;
    const auto colour = line_colour(edge);
    const auto style = edge.weight ? line_style(band_of(*edge.weight)) : kUnweighed;
    std::string data = "M" + at(moved(curve[0]).x, moved(curve[0]).y);
    for (std::size_t i = 1; i + 2 < curve.size(); i += 3) {
        const Point a = moved(curve[i]), b = moved(curve[i + 1]), c = moved(curve[i + 2]);
        data += " C" + at(a.x, a.y) + " " + at(b.x, b.y) + " " + at(c.x, c.y);
    }
    svg.open("path")
        .attribute("d", data)
        .attribute("fill", "none")
        .attribute("stroke", colour)
        .attribute("stroke-width", style.width);
    if (!style.dashes.empty()) svg.attribute("stroke-dasharray", style.dashes);
    svg.close();
    if (!position.head_tip) return;
    const Point base = moved(curve.back()), tip = moved(*position.head_tip);
    if (edge.stance == Stance::against) {
        write_bar(svg, base, tip, colour);
    } else {
        write_triangle(svg, base, tip, colour, edge.role == LineRole::copy);
    }
}

}  // namespace saggar::viz
