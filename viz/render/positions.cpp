#include "viz/render/positions.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "kg/model/fault.h"

namespace saggar::viz {

namespace {

std::string point_text(const Point& point) { return fmt::format("{:.1f},{:.1f}", point.x, point.y); }

std::string tip_text(const std::optional<Point>& point) { return point ? point_text(*point) : "-"; }

[[noreturn]] void not_an_answer(std::string_view where) {
    throw LimitFault(
        fmt::format("the layout program gave an answer that cannot be read, at \"{}\"", where.substr(0, 60)),
        "install saggar again: saggar and saggar-render belong to one version");
}

std::string_view take(std::string_view& text, char end) {
    const auto at = text.find(end);
    const auto piece = text.substr(0, at);
    text.remove_prefix(at == std::string_view::npos ? text.size() : at + 1);
    return piece;
}

template <typename Number>
Number read_number(std::string_view text) {
    Number value{};
    const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
    if (result.ec != std::errc() || result.ptr != text.data() + text.size()) not_an_answer(text);
    if (!std::isfinite(static_cast<double>(value))) not_an_answer(text);
    return value;
}

Point read_point(std::string_view text) {
    std::string_view rest = text;
    const double x = read_number<double>(take(rest, ','));
    return {x, read_number<double>(rest)};
}

std::optional<Point> read_tip(std::string_view text) {
    if (text == "-") return std::nullopt;
    return read_point(text);
}

EdgePosition read_edge(std::string_view rest) {
    EdgePosition edge;
    edge.label = read_tip(take(rest, ' '));
    auto points = take(rest, ' ');
    while (!points.empty()) edge.curve.push_back(read_point(take(points, ';')));
    if (edge.curve.size() % 3 != 1) not_an_answer("edge");
    edge.tail_tip = read_tip(take(rest, ' '));
    edge.head_tip = read_tip(rest);
    return edge;
}

}  // namespace

std::string to_text(const Positions& positions) {
    std::string out = fmt::format("saggar-layout 1\nsize {:.1f} {:.1f}\n", positions.width, positions.height);
    for (std::size_t i = 0; i < positions.nodes.size(); ++i) {
        out += fmt::format("node {} {:.1f} {:.1f}\n", i, positions.nodes[i].x, positions.nodes[i].y);
    }
    for (std::size_t i = 0; i < positions.edges.size(); ++i) {
        const auto& edge = positions.edges[i];
        std::string points;
        for (const auto& point : edge.curve) points += (points.empty() ? "" : ";") + point_text(point);
        out += fmt::format("edge {} {} {} {} {}\n", i, tip_text(edge.label), points, tip_text(edge.tail_tip),
                           tip_text(edge.head_tip));
    }
    return out + "end\n";
}

Positions parse_positions(std::string_view text, std::size_t nodes, std::size_t edges) {
    Positions positions;
    if (take(text, '\n') != "saggar-layout 1") not_an_answer("the first line");
    for (;;) {
        auto line = take(text, '\n');
        const auto whole = line;
        const auto word = take(line, ' ');
        if (word == "size") {
            positions.width = read_number<double>(take(line, ' '));
            positions.height = read_number<double>(line);
        } else if (word == "node") {
            if (read_number<std::size_t>(take(line, ' ')) != positions.nodes.size()) not_an_answer(whole);
            const double x = read_number<double>(take(line, ' '));
            positions.nodes.push_back({x, read_number<double>(line)});
        } else if (word == "edge") {
            if (read_number<std::size_t>(take(line, ' ')) != positions.edges.size()) not_an_answer(whole);
            positions.edges.push_back(read_edge(line));
        } else if (word == "end") {
            break;
        } else {
            not_an_answer(whole);
        }
    }
    if (positions.nodes.size() != nodes || positions.edges.size() != edges) not_an_answer("end");
    return positions;
}

}  // namespace saggar::viz
