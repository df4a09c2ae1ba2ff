// The grid as a picture: a sign, a word and citation numbers in every cell.
#include <fmt/format.h>

#include <algorithm>

#include "viz/grid.h"
#include "viz/notation.h"
#include "viz/sheet.h"
#include "viz/svg_parts.h"
#include "viz/text/clean.h"
#include "viz/text/wrap.h"

namespace saggar::viz {

namespace {

constexpr double kRowNames = 130, kCell = 84, kSign = 15, kWord = 10.5, kHeading = 11.5;
constexpr std::size_t kColumnsInBand = 11;  // more columns go on in a further band below
constexpr std::size_t kMostNumbers = 3;     // citation numbers in a cell; the rest is counted

// "[1, 4, 9 +5]"
std::string short_numbers(std::vector<int> numbers) {
    std::sort(numbers.begin(), numbers.end());
    if (numbers.size() <= kMostNumbers) return numbers_text(numbers);
    const auto more = numbers.size() - kMostNumbers;
    numbers.resize(kMostNumbers);
    auto text = numbers_text(numbers);
    text.pop_back();
    return fmt::format("{} +{}]", text, more);
}

struct CellText {
    std::vector<std::string> lines;
};

CellText text_of(const Grid& grid, const GridCell& cell) {
    CellText text;
    text.lines.emplace_back(grid.word(cell.state));
    if (!cell.note.empty()) {
        for (const auto& line : wrap(clean_line(cell.note), kCell - 8, kWord, Face::book, 3).lines)
            text.lines.push_back(line);
    }
    if (!cell.cited_for.empty())
        text.lines.push_back((cell.cited_against.empty() ? "" : "for ") + short_numbers(cell.cited_for));
    if (!cell.cited_against.empty())
        text.lines.push_back((cell.cited_for.empty() ? "" : "against ") + short_numbers(cell.cited_against));
    return text;
}

double height_of(const CellText& text) {
    return 10 + kSign + 3 + static_cast<double>(text.lines.size()) * kWord * type_size::line;
}

void write_square(XmlWriter& svg, double x, double y, std::string_view fill) {
    svg.open("rect")
        .attribute("x", x - kSign / 2)
        .attribute("y", y)
        .attribute("width", kSign)
        .attribute("height", kSign);
    svg.attribute("fill", fill).attribute("stroke", colour::ink).attribute("stroke-width", 1.4).close();
}

void write_stroke(XmlWriter& svg, double x1, double y1, double x2, double y2, double width) {
    svg.open("line").attribute("x1", x1).attribute("y1", y1).attribute("x2", x2).attribute("y2", y2);
    svg.attribute("stroke", colour::ink).attribute("stroke-width", width).close();
}

void write_sign(XmlWriter& svg, CellState state, double x, double top) {
    const double left = x - kSign / 2, right = x + kSign / 2, bottom = top + kSign, middle = top + kSign / 2;
    switch (state) {
        case CellState::unknown:
            write_text_line(svg, {"?", 13, Face::book, true}, x, top - 1, Anchor::middle);
            break;
        case CellState::made:
            write_square(svg, x, top, colour::blue);
            break;
        case CellState::not_made:
            write_square(svg, x, top, colour::paper);
            write_stroke(svg, left, top, right, bottom, 1.4);
            write_stroke(svg, left, bottom, right, top, 1.4);
            break;
        case CellState::one_buyer:
            write_square(svg, x, top, colour::paper);
            svg.open("path").attribute("d", fmt::format("M{},{} L{},{} L{},{} Z", number(left), number(top),
                                                        number(left), number(bottom), number(right), number(bottom)));
            svg.attribute("fill", colour::orange)
                .attribute("stroke", colour::ink)
                .attribute("stroke-width", 1.4)
                .close();
            break;
        case CellState::borrowed:
            write_square(svg, x, top, colour::sky_blue);
            write_stroke(svg, left - 9, middle, left + 7, middle, 1.8);
            write_stroke(svg, left + 3, middle - 4, left + 7, middle, 1.8);
            write_stroke(svg, left + 3, middle + 4, left + 7, middle, 1.8);
            break;
        case CellState::disputed:
            write_square(svg, x, top, colour::paper);
            write_text_line(svg, {"\u2260", 14, Face::bold, false}, x, top - 2, Anchor::middle);
            break;
    }
}

std::string spoken_cell(const Grid& grid, std::size_t row, std::size_t column) {
    const auto& cell = grid.cells[row][column];
    std::string text =
        fmt::format("{}, {}: {}", grid.rows[row].label, grid.columns[column].label, grid.word(cell.state));
    if (!cell.note.empty()) text += ", " + cell.note;
    if (cell.support) text += "; support " + weight_text(*cell.support);
    if (!cell.cited_for.empty()) text += "; cited for by " + numbers_text(cell.cited_for);
    if (!cell.cited_against.empty()) text += "; cited against by " + numbers_text(cell.cited_against);
    return text;
}

class GridWriter {
public:
    GridWriter(const Grid& grid, Sheet& sheet, const std::string& prefix)
        : grid_(grid), sheet_(sheet), prefix_(prefix) {}

    void band(std::size_t first, std::size_t last) {
        head(first, last);
        for (std::size_t r = 0; r < grid_.rows.size(); ++r) row(r, first, last);
        rule(first, last);
        sheet_.skip(16);
    }

private:
    double x_of(std::size_t column, std::size_t first) const {
        return kMargin + kRowNames + static_cast<double>(column - first) * kCell;
    }

    void rule(std::size_t first, std::size_t last) {
        auto& svg = sheet_.svg();
        svg.open("line")
            .attribute("x1", kMargin)
            .attribute("x2", x_of(last, first))
            .attribute("y1", sheet_.y())
            .attribute("y2", sheet_.y());
        svg.attribute("stroke", "#BBBBBB").attribute("stroke-width", 0.8).close();
    }

    void head(std::size_t first, std::size_t last) {
        std::size_t most = 1;
        for (std::size_t c = first; c < last; ++c) most = std::max(most, head_lines(c).size());
        const double height = static_cast<double>(most) * kHeading * type_size::line + 6;
        for (std::size_t c = first; c < last; ++c) {
            const auto lines = head_lines(c);
            double y = sheet_.y() + height - 6 - static_cast<double>(lines.size()) * kHeading * type_size::line;
            for (const auto& line : lines) {
                write_text_line(sheet_.svg(), {line, kHeading, Face::bold, false}, x_of(c, first) + kCell / 2, y,
                                Anchor::middle);
                y += kHeading * type_size::line;
            }
        }
        sheet_.skip(height);
    }

    std::vector<std::string> head_lines(std::size_t column) const {
        const auto& head = grid_.columns[column];
        return wrap(clean_line(head.label + (head.caution ? " (!)" : "")), kCell - 6, kHeading, Face::bold, 5).lines;
    }

    void row(std::size_t r, std::size_t first, std::size_t last) {
        rule(first, last);
        const auto name = wrap(clean_line(grid_.rows[r].label + (grid_.rows[r].caution ? " (!)" : "")), kRowNames - 10, 13,
                               Face::bold, 4);
        double height = static_cast<double>(name.lines.size()) * 13 * type_size::line + 12;
        std::vector<CellText> texts;
        for (std::size_t c = first; c < last; ++c) {
            texts.push_back(text_of(grid_, grid_.cells[r][c]));
            height = std::max(height, height_of(texts.back()));
        }
        double y = sheet_.y() + 6;
        for (const auto& line : name.lines) {
            write_text_line(sheet_.svg(), {line, 13, Face::bold, false}, kMargin, y, Anchor::start);
            y += 13 * type_size::line;
        }
        for (std::size_t c = first; c < last; ++c) cell(r, c, x_of(c, first), texts[c - first]);
        sheet_.skip(height);
    }

    void cell(std::size_t r, std::size_t c, double x, const CellText& text) {
        auto& svg = sheet_.svg();
        svg.open("g")
            .attribute("id", fmt::format("{}-{}-{}", prefix_, r, c))
            .attribute("class", "cell")
            .attribute("role", "graphics-symbol");
        svg.attribute("tabindex", "0").attribute("aria-label", spoken_cell(grid_, r, c));
        const auto state = grid_.cells[r][c].state;
        write_sign(svg, state, x + kCell / 2, sheet_.y() + 6);
        double y = sheet_.y() + 6 + kSign + 2;
        for (const auto& line : text.lines) {
            write_text_line(svg, {line, kWord, Face::book, state == CellState::unknown}, x + kCell / 2, y,
                            Anchor::middle);
            y += kWord * type_size::line;
        }
        svg.close();
    }

    const Grid& grid_;
    Sheet& sheet_;
    const std::string& prefix_;
};

void write_legend(const Grid& grid, Sheet& sheet) {
    static constexpr std::pair<CellState, const char*> kEntries[] = {
        {CellState::made, "documented"},
        {CellState::not_made, "denied, or left out of a complete list"},
        {CellState::one_buyer, "for that line only"},
        {CellState::borrowed, "taken over from another shape"},
        {CellState::disputed, "documented both ways"},
        {CellState::unknown, "nothing known either way"},
    };
    sheet.heading("How to read it");
    double x = kMargin + 12, y = sheet.y();
    for (const auto& [state, meaning] : kEntries) {
        const auto words = fmt::format("{}: {}", grid.word(state), meaning);
        const double width = 22 + text_width(words, 12) + 28;
        if (x + width > kMargin + sheet.content_width()) {
            x = kMargin + 12;
            y += 24;
        }
        write_sign(sheet.svg(), state, x, y);
        write_text_line(sheet.svg(), {words, 12, Face::book, false}, x + 16, y - 1, Anchor::start);
        x += width;
    }
    sheet.skip(y + 24 - sheet.y());
}

}  // namespace

std::string to_svg(const Grid& grid, const std::string& id_prefix) {
    const auto shown = std::min(grid.columns.size(), kColumnsInBand);
    Sheet sheet({"grid", grid.title, grid.description, grid.made_from, grid.left_out, id_prefix},
                kRowNames + static_cast<double>(shown) * kCell);
    GridWriter writer(grid, sheet, id_prefix);
    for (std::size_t first = 0; first < grid.columns.size(); first += kColumnsInBand) {
        writer.band(first, std::min(first + kColumnsInBand, grid.columns.size()));
    }
    write_legend(grid, sheet);
    sheet.cautions(grid.cautions);
    sheet.citations(grid.citations);
    return sheet.finish();
}

}  // namespace saggar::viz
