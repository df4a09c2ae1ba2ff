#include "app/drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "kg/model/fault.h"
#include "viz/condense.h"
#include "viz/dot.h"
#include "viz/paint/paint.h"
#include "viz/svg.h"

namespace saggar::app {
namespace {

std::string svg_of(const Drawing& drawing) {
    if (drawing.runs) return viz::to_svg(*drawing.runs);
    if (drawing.grid) return viz::to_svg(*drawing.grid);
    if (drawing.years) return viz::to_svg(*drawing.years);
    return viz::to_svg(viz::condensed(*drawing.diagram));
}

// The longest word of each column, in cells, with the gap before the next.
std::vector<std::size_t> least_widths(const std::vector<std::vector<std::string>>& rows) {
    constexpr std::size_t kGap = 2, kLeast = 9;
    std::vector<std::size_t> widths(rows.empty() ? 0 : rows.front().size(), kLeast + kGap);
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size() && i < widths.size(); ++i) {
            std::istringstream words(row[i]);
            for (std::string word; words >> word;) widths[i] = std::max(widths[i], cells(word) + kGap);
        }
    }
    return widths;
}

// A wide table as several, each with the first column, so that no line is wider than the terminal.
std::string tables_that_fit(const std::vector<std::vector<std::string>>& rows, const Layout& layout) {
    const auto widths = least_widths(rows);
    std::string text;
    for (std::size_t from = 1; rows.empty() || from < rows.front().size();) {
        std::size_t to = from, used = widths.empty() ? 0 : widths.front();
        while (to < widths.size() && (to == from || used + widths[to] <= layout.width)) used += widths[to++];
        std::vector<std::vector<std::string>> part;
        for (const auto& row : rows) {
            std::vector<std::string> some = {row.front()};
            for (std::size_t i = from; i < std::min(to, row.size()); ++i) some.push_back(row[i]);
            part.push_back(std::move(some));
        }
        text += (text.empty() ? "" : "\n") + table(part, layout);
        if (rows.empty()) break;
        from = to;
    }
    return text;
}

// A chart's table with its cautions and citations under it.
template <typename Chart>
std::string table_with_notes(const Chart& chart, const std::vector<std::string>& cautions, const Layout& layout) {
    std::string text = tables_that_fit(viz::to_table(chart), layout);
    for (const auto& caution : cautions) text += "! " + wrap(caution, layout.width, 2) + "\n";
    for (const auto& citation : chart.citations) {
        const auto mark = fmt::format("[{}] ", citation.number);
        text += mark + wrap(citation.text, layout.width, mark.size()) + "\n";
    }
    return text;
}

std::string table_of(const Drawing& drawing, const Layout& layout) {
    if (drawing.runs) return table_with_notes(*drawing.runs, drawing.runs->cautions, layout);
    if (drawing.grid) return table_with_notes(*drawing.grid, drawing.grid->cautions, layout);
    if (drawing.years) {
        std::string lanes;
        for (const auto& lane : drawing.years->lanes) lanes += wrap(lane.cited_words, layout.width, 4) + "\n";
        return lanes + table_with_notes(*drawing.years, {}, layout);
    }
    throw UsageFault("a diagram has no table", "use --as dot, svg, pdf or png");
}

}  // namespace

PictureFormat picture_format(const std::string& as, const std::string& file, const Drawing& drawing) {
    std::string word = as;
    if (word.empty() && file != "-") {
        word = std::filesystem::path(file).extension().string();
        if (!word.empty()) word.erase(0, 1);
    }
    if (word.empty()) return drawing.diagram ? PictureFormat::dot : PictureFormat::table;
    if (word == "dot" || word == "gv") return PictureFormat::dot;
    if (word == "svg") return PictureFormat::svg;
    if (word == "pdf") return PictureFormat::pdf;
    if (word == "png") return PictureFormat::png;
    if (word == "txt" || word == "table") return PictureFormat::table;
    throw UsageFault(fmt::format("\"{}\" is no format for a picture", word),
                     "use .svg, .pdf, .png or .dot, or name it with --as");
}

std::string picture_bytes(const Drawing& drawing, PictureFormat format, const Layout& layout, double resolution) {
    switch (format) {
        case PictureFormat::dot:
            if (!drawing.diagram)
                throw UsageFault("run charts and grids are no graphs and have no DOT form",
                                 "use --as svg, pdf, png or table");
            return viz::to_dot(*drawing.diagram);
        case PictureFormat::svg:
            return svg_of(drawing);
        case PictureFormat::pdf:
            return viz::svg_to_pdf(svg_of(drawing));
        case PictureFormat::png:
            return viz::svg_to_png(svg_of(drawing), resolution);
        case PictureFormat::table:
            return table_of(drawing, layout);
    }
    return {};
}

}  // namespace saggar::app
