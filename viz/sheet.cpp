#include "viz/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/svg_parts.h"
#include "viz/text/clean.h"
#include "viz/text/wrap.h"

namespace saggar::viz {

namespace {

constexpr double kTitleSize = 19, kDescriptionSize = 13, kHeadingSize = 13, kLegendSize = 12, kCitationSize = 12;
constexpr double kSample = 46, kLegendRow = 24, kNumberColumn = 34, kLegendColumn = 320, kCitationColumn = 500,
                 kColumnGap = 32;
constexpr double kWidestText = 920;  // px: longer lines are hard to read

// Where a sheet is larger than A3: how large at full size, and which paper holds it. ISO 216: A0 is 841 by 1189 mm, each
// further size half the one before; 1 px is 1/96 inch.
std::string paper_needed(double width, double height) {
    const double shorter = std::min(width, height) / 96 * 25.4, longer = std::max(width, height) / 96 * 25.4;
    static constexpr struct {
        const char* name;
        double shorter, longer;
    } kPapers[] = {{"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841}, {"A0", 841, 1189}};
    const auto size = fmt::format("Full size: {:.0f} by {:.0f} cm", width / 96 * 2.54, height / 96 * 2.54);
    for (const auto& paper : kPapers) {
        if (shorter > paper.shorter || longer > paper.longer) continue;
        return &paper == kPapers ? std::string() : fmt::format("{}, for {} paper or larger.", size, paper.name);
    }
    return size + ", more than A0 paper: print it in parts, or draw less at once.";
}

}  // namespace

Sheet::Sheet(const SheetText& text, double content_width)
    : text_(text), content_width_(std::ceil(std::max(content_width, kLeastContent))) {
    for (const auto& line : wrap(clean_line(text_.title), content_width_, kTitleSize, Face::bold).lines) {
        write_text_line(svg_, {line, kTitleSize, Face::bold, false}, kMargin, y_, Anchor::start);
        y_ += kTitleSize * type_size::line;
    }
    y_ += 4;
    if (!text_.description.empty()) paragraph(text_.description, kDescriptionSize);
    y_ += 14;
}

void Sheet::heading(std::string_view text) {
    y_ += 14;
    write_text_line(svg_, {clean_line(text), kHeadingSize, Face::bold, false}, kMargin, y_, Anchor::start);
    y_ += kHeadingSize * type_size::line + 4;
}

void Sheet::paragraph(std::string_view text, double size, bool quiet) {
    for (const auto& line : wrap(clean_line(text), std::min(content_width_, kWidestText), size).lines) {
        write_text_line(svg_, {line, size, Face::book, quiet}, kMargin, y_, Anchor::start);
        y_ += size * type_size::line;
    }
}

// Draws the sample of a row in the first line of its room; gives where its words begin.
double Sheet::legend_sample(const LegendRow& row, double x, double top) {
    const double middle = top + kLegendRow / 2;
    switch (row.drawing) {
        case LegendDrawing::outline:
            write_outline(svg_, row.outline, {x + 4, top + 2, kSample - 8, kLegendRow - 5}, false);
            break;
        case LegendDrawing::line: {
            EdgePosition sample;
            sample.curve = {{x, middle}, {x + 12, middle}, {x + 24, middle}, {x + kSample - 12, middle}};
            const bool headed = row.headed;
            if (headed) sample.head_tip = Point{x + kSample - 2, middle};
            if (!headed) sample.curve.back().x = x + kSample;
            write_line(svg_, row.line, sample, {0, 0});
            break;
        }
        case LegendDrawing::badge:
            write_badge(svg_, row.badge, x, top + (kLegendRow - kBadgeHeight) / 2);
            return std::max(x + kSample + 10, x + badge_width(row.badge) + 6);
        case LegendDrawing::text:
            write_text_line(svg_, {row.sign, kLegendSize, Face::bold, false}, x,
                            middle - kLegendSize * type_size::line / 2, Anchor::start);
            return x + std::max(kSample, text_width(row.sign, kLegendSize, Face::bold)) + 10;
    }
    return x + kSample + 10;
}

double Sheet::legend_row(const LegendRow& row, double x, double top) {
    const double text_x = legend_sample(row, x, top);
    double text_top = top + kLegendRow / 2 - kLegendSize * type_size::line / 2;
    for (const auto& line : wrap(clean_line(row.meaning), x + kLegendColumn - 16 - text_x, kLegendSize).lines) {
        write_text_line(svg_, {line, kLegendSize, Face::book, false}, text_x, text_top, Anchor::start);
        text_top += kLegendSize * type_size::line;
    }
    return std::max(kLegendRow, text_top - top + 4);
}

void Sheet::legend(const std::vector<LegendRow>& rows) {
    if (rows.empty()) return;
    heading("How to read it");
    const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(std::floor(content_width_ / kLegendColumn)));
    const std::size_t per_column = (rows.size() + columns - 1) / columns;
    svg_.open("g").attribute("class", "legend");
    double lowest = y_;
    for (std::size_t i = 0; i < rows.size();) {
        const double x = kMargin + static_cast<double>(i / per_column) * kLegendColumn;
        double top = y_;
        for (std::size_t row = 0; row < per_column && i < rows.size(); ++row, ++i) top += legend_row(rows[i], x, top);
        lowest = std::max(lowest, top);
    }
    svg_.close();
    y_ = lowest;
}

void Sheet::cautions(const std::vector<std::string>& cautions) {
    if (cautions.empty()) return;
    heading("Caution");
    for (const auto& caution : cautions) {
        write_text_line(svg_, {"!", kCitationSize, Face::bold, false}, kMargin + kNumberColumn - 16, y_, Anchor::start);
        for (const auto& line :
             wrap(clean_line(caution), std::min(content_width_, kWidestText) - kNumberColumn, kCitationSize).lines) {
            write_text_line(svg_, {line, kCitationSize, Face::book, false}, kMargin + kNumberColumn, y_, Anchor::start);
            y_ += kCitationSize * type_size::line;
        }
        y_ += 3;
    }
}

double Sheet::citation(const Citation& citation, double x, double top, double width, double number_column) {
    svg_.open("g")
        .attribute("role", "listitem")
        .attribute("id", fmt::format("{}-c{}", text_.id_prefix, citation.number));
    write_text_line(svg_, {fmt::format("[{}]", citation.number), kCitationSize, Face::book, false}, x, top,
                    Anchor::start);
    for (const auto& line : wrap(clean_line(citation.text), width - number_column, kCitationSize).lines) {
        write_text_line(svg_, {line, kCitationSize, Face::book, false}, x + number_column, top, Anchor::start);
        top += kCitationSize * type_size::line;
    }
    svg_.close();
    return top + 4;
}

// In as many columns as are wide enough to read, filled one after the other to about the same height.
void Sheet::citations(const std::vector<Citation>& citations) {
    if (citations.empty()) return;
    heading("Citations");
    const double number_column = text_width(fmt::format("[{}]", citations.back().number), kCitationSize) + 10;
    const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(content_width_ / kCitationColumn));
    const double width = std::min(
        (content_width_ - static_cast<double>(columns - 1) * kColumnGap) / static_cast<double>(columns), kWidestText);
    double all = 0;
    for (const auto& citation : citations) {
        all += static_cast<double>(wrap(clean_line(citation.text), width - number_column, kCitationSize).lines.size()) *
                   kCitationSize * type_size::line +
               4;
    }
    const double full = all / static_cast<double>(columns);
    svg_.open("g").attribute("role", "list").attribute("aria-label", "Citations");
    double x = kMargin, top = y_, lowest = y_;
    for (const auto& one : citations) {
        if (top - y_ >= full) {
            x += width + kColumnGap;
            top = y_;
        }
        top = citation(one, x, top, width, number_column);
        lowest = std::max(lowest, top);
    }
    svg_.close();
    y_ = lowest;
}

std::string Sheet::finish() {
    if (!text_.left_out.empty()) {
        heading("Left out");
        paragraph(text_.left_out);
    }
    y_ += 12;
    if (!text_.made_from.empty()) paragraph(text_.made_from, 11, true);
    paragraph(paper_needed(width(), y_ + kMargin), 11, true);
    y_ = std::ceil(y_ + kMargin);
    XmlWriter file;
    const auto description_id = text_.id_prefix + "-description";
    file.open("svg").attribute("xmlns", "http://www.w3.org/2000/svg").attribute("class", text_.name);
    file.attribute("width", width())
        .attribute("height", y_)
        .attribute("viewBox", fmt::format("0 0 {} {}", number(width()), number(y_)));
    file.attribute("role", "graphics-document")
        .attribute("aria-label", text_.title)
        .attribute("aria-describedby", description_id);
    file.leaf("title", text_.title);
    file.open("desc").attribute("id", description_id).text(text_.description).close();
    file.open("rect").attribute("width", width()).attribute("height", y_).attribute("fill", colour::paper).close();
    file.open("g").attribute("font-family", kFontFamily).markup(svg_.finish()).close();
    return file.finish();
}

}  // namespace saggar::viz
