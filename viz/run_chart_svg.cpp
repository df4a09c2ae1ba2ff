// The run chart as a picture: names on the left, years on top, dates in words with citations on the right.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/notation.h"
#include "viz/run_chart.h"
#include "viz/sheet.h"
#include "viz/svg_parts.h"
#include "viz/text/clean.h"
#include "viz/text/wrap.h"

namespace saggar::viz {

namespace {

constexpr double kNames = 170, kPlot = 470, kWords = 270, kGap = 12;
constexpr std::size_t kPiecesInWords = 3, kReachRows = 6;
constexpr double kBar = 12, kLeastRow = 48, kTextSize = 11, kAxis = 30;

struct Axis {
    double first = 1900, last = 1901;
    double left = 0;

    double x(double year) const { return left + (std::clamp(year, first, last) - first) / (last - first) * kPlot; }
    int step() const {
        for (const int step : {1, 2, 5, 10, 20, 50, 100, 200, 500}) {
            if ((last - first) / step <= 9) return step;
        }
        return 1000;
    }
};

Axis axis_of(const RunChart& chart) {
    double first = 1e9, last = -1e9;
    const auto take = [&](double year) {
        if (!std::isfinite(year)) return;
        first = std::min(first, year);
        last = std::max(last, year);
    };
    for (const auto& row : chart.rows) {
        for (const auto& event : row.events) {
            take(event.earliest);
            take(event.latest);
        }
        if (row.solved) {
            for (const double year :
                 {row.solved->from_low, row.solved->from_high, row.solved->to_low, row.solved->to_high})
                take(year);
        }
    }
    Axis axis;
    if (first > last) return axis;
    const double margin = std::max(1.0, (last - first) * 0.04);
    axis.first = std::floor(first - margin);
    axis.last = std::ceil(last + margin);
    return axis;
}

struct RowText {
    Wrapped name;
    std::vector<TextLine> words;
    double height = 0;
};

std::string words_of(const RunEvent& event) {
    std::string text = fmt::format("{} {}", run_mark_word(event.mark), event.date);
    if (!event.note.empty()) text = fmt::format("{}, {}", event.note, event.date);
    if (event.support) text += " \u00B7 " + weight_text(*event.support);
    if (!event.cited_for.empty()) text += " \u00B7 for " + numbers_text(event.cited_for);
    if (!event.cited_against.empty()) text += " \u00B7 against " + numbers_text(event.cited_against);
    if (event.disputed) text += " \u00B7 \u2260 disputed";
    return text;
}

// Dates in words, one each; many dated pieces are summed up, they stand in the picture one by one.
std::vector<std::string> sentences_of(const RunRow& row) {
    std::vector<std::string> sentences;
    RunEvent pieces;
    std::size_t count = 0;
    for (const auto& event : row.events) count += event.mark == RunMark::made;
    double first = 1e9, last = -1e9;
    for (const auto& event : row.events) {
        if (event.mark == RunMark::made && count > kPiecesInWords) {
            if (std::isfinite(event.earliest)) first = std::min(first, event.earliest);
            if (std::isfinite(event.latest)) last = std::max(last, event.latest);
            pieces.cited_for.insert(pieces.cited_for.end(), event.cited_for.begin(), event.cited_for.end());
            continue;
        }
        const auto words = words_of(event);
        if (sentences.empty() || sentences.back() != words)
            sentences.push_back(words);  // both ends of one run are one date
    }
    if (count > kPiecesInWords) {
        std::string text = fmt::format("{} dated pieces", count);
        if (first < last) text += fmt::format(" between {:.0f} and {:.0f}", std::floor(first), std::ceil(last) - 1);
        sentences.push_back(text + " \u00B7 " + numbers_text(pieces.cited_for));
    }
    if (row.solved) sentences.push_back("worked out: " + solved_words(*row.solved));
    return sentences;
}

RowText text_of(const RunRow& row) {
    RowText text;
    text.name = wrap(clean_line(row.label), kNames - kGap, 13, Face::bold, 4);
    if (!row.any)
        text.words.push_back(
            {row.solved ? "no date of its own is known" : "no date is known", kTextSize, Face::book, true});
    for (const auto& words : sentences_of(row)) {
        for (const auto& line : wrap(clean_line(words), kWords, kTextSize).lines)
            text.words.push_back({line, kTextSize, Face::book, false});
    }
    const double names =
        static_cast<double>(text.name.lines.size()) * 13 * type_size::line + type_size::kind * type_size::line;
    text.height =
        std::max({kLeastRow, names + 10, static_cast<double>(text.words.size()) * kTextSize * type_size::line + 10});
    std::size_t pieces = 0;
    for (const auto& event : row.events) pieces += event.mark == RunMark::made;
    text.height = std::max(text.height, 2 * (20 + 4.5 * static_cast<double>(std::min(pieces, kReachRows))));
    return text;
}

void write_rect(XmlWriter& svg, double x1, double x2, double y, std::string_view fill, std::string_view stroke) {
    if (x2 - x1 < 0.5) return;
    svg.open("rect")
        .attribute("x", x1)
        .attribute("y", y - kBar / 2)
        .attribute("width", x2 - x1)
        .attribute("height", kBar);
    svg.attribute("fill", fill).attribute("stroke", stroke).attribute("stroke-width", 1.0).close();
}

// Hatching is drawn line by line: a pattern would need an id and not every viewer prints it.
void write_hatched(XmlWriter& svg, double x1, double x2, double y) {
    write_rect(svg, x1, x2, y, colour::paper, colour::ink);
    std::string data;
    for (double x = x1 + 4; x < x2; x += 5) {
        const double back = std::min(kBar, x - x1);
        data += fmt::format("M{},{} L{},{} ", number(x), number(y - kBar / 2), number(x - back),
                            number(y - kBar / 2 + back));
    }
    if (!data.empty())
        svg.open("path")
            .attribute("d", data)
            .attribute("fill", "none")
            .attribute("stroke", colour::ink)
            .attribute("stroke-width", 0.8)
            .close();
}

void write_polygon(XmlWriter& svg, const std::string& data, std::string_view fill) {
    svg.open("path")
        .attribute("d", data)
        .attribute("fill", fill)
        .attribute("stroke", colour::ink)
        .attribute("stroke-width", 1.0)
        .close();
}

void write_mark(XmlWriter& svg, RunMark mark, double x, double y) {
    const auto p = [](double a, double b) { return number(a) + "," + number(b); };
    switch (mark) {
        case RunMark::introduced:
            return write_polygon(svg, "M" + p(x, y - 8) + " L" + p(x + 9, y) + " L" + p(x, y + 8) + " Z",
                                 colour::bluish_green);
        case RunMark::dropped:
            return write_polygon(svg, "M" + p(x, y - 8) + " L" + p(x - 9, y) + " L" + p(x, y + 8) + " Z",
                                 colour::vermillion);
        case RunMark::modelled:
            return write_polygon(
                svg, "M" + p(x, y - 7) + " L" + p(x + 6, y) + " L" + p(x, y + 7) + " L" + p(x - 6, y) + " Z",
                colour::yellow);
        case RunMark::made:
            svg.open("line").attribute("x1", x).attribute("x2", x).attribute("y1", y - 10).attribute("y2", y + 10);
            svg.attribute("stroke", colour::ink).attribute("stroke-width", 2.4).close();
    }
}

// An arrow where the bar runs on beyond the years drawn.
void write_runs_on(XmlWriter& svg, double x, double y, double direction) {
    write_polygon(svg,
                  fmt::format("M{},{} L{},{} L{},{} Z", number(x), number(y - kBar / 2), number(x + direction * 8),
                              number(y), number(x), number(y + kBar / 2)),
                  colour::paper);
}

void write_bar(XmlWriter& svg, const Axis& axis, const RunRow& row, double y) {
    if (!(row.possible_from < row.possible_to)) return;
    const bool certain = row.certain_from < row.certain_to;
    const double from = axis.x(row.possible_from), to = axis.x(row.possible_to);
    if (certain) {
        write_hatched(svg, from, axis.x(row.certain_from), y);
        write_rect(svg, axis.x(row.certain_from), axis.x(row.certain_to), y, colour::sky_blue, colour::ink);
        write_hatched(svg, axis.x(row.certain_to), to, y);
    } else {
        write_hatched(svg, from, to, y);
    }
    if (!std::isfinite(row.possible_from)) write_runs_on(svg, from, y, -1);
    if (!std::isfinite(row.possible_to)) write_runs_on(svg, to, y, 1);
}

// Over the bar of what is said: from the latest beginning to the earliest end solid, what is possible beyond as a line.
void write_solved(XmlWriter& svg, const Axis& axis, const SolvedRun& run, double y) {
    const double from = std::max(run.from_low, axis.first), to = std::min(run.to_high, axis.last);
    if (!(from < to)) return;
    svg.open("line").attribute("x1", axis.x(from)).attribute("x2", axis.x(to)).attribute("y1", y).attribute("y2", y);
    svg.attribute("stroke", colour::ink).attribute("stroke-width", 1.2).close();
    for (const double end : {run.from_low, run.to_high}) {
        if (!std::isfinite(end)) continue;
        svg.open("line").attribute("x1", axis.x(end)).attribute("x2", axis.x(end));
        svg.attribute("y1", y - 4).attribute("y2", y + 4).attribute("stroke", colour::ink).close();
    }
    if (run.from_high < run.to_low) {
        svg.open("line").attribute("x1", axis.x(run.from_high)).attribute("x2", axis.x(run.to_low));
        svg.attribute("y1", y).attribute("y2", y).attribute("stroke", colour::ink).attribute("stroke-width", 5).close();
    }
}

// How far the date of a piece reaches: a thin line with ends, the lines of neighbouring pieces one below the other.
void write_reach(XmlWriter& svg, double low, double high, double y) {
    svg.open("path").attribute("d", fmt::format("M{0},{2} L{0},{3} M{0},{4} L{1},{4} M{1},{2} L{1},{3}", number(low),
                                                number(high), number(y - 2), number(y + 2), number(y)));
    svg.attribute("fill", "none").attribute("stroke", colour::ink).attribute("stroke-width", 0.9).close();
}

void write_events(XmlWriter& svg, const Axis& axis, const RunRow& row, double y) {
    std::size_t reaches = 0;
    for (const auto& event : row.events) {
        const bool open = !std::isfinite(event.earliest) && !std::isfinite(event.latest);
        if (open) continue;
        double at = event.mark == RunMark::dropped ? event.latest : event.earliest;
        if (!std::isfinite(at)) at = event.mark == RunMark::dropped ? event.earliest : event.latest;
        if (event.mark == RunMark::made && std::isfinite(event.earliest) && std::isfinite(event.latest)) {
            const double low = axis.x(event.earliest), high = axis.x(event.latest);
            if (high - low > 6) write_reach(svg, low, high, y + 14 + 4.5 * static_cast<double>(reaches++ % kReachRows));
            at = (event.earliest + event.latest) / 2;
        }
        write_mark(svg, event.mark, axis.x(at), y);
    }
}

std::string spoken_row(const RunRow& row) {
    std::string text = row.kind + ": " + row.label;
    if (!row.any && !row.solved) return text + "; no date is known";
    for (const auto& words : sentences_of(row)) text += "; " + words;
    return text;
}

void write_axis(Sheet& sheet, const Axis& axis, double height) {
    auto& svg = sheet.svg();
    const double top = sheet.y() + kAxis - 8;
    svg.open("g").attribute("class", "years").attribute("aria-hidden", "true");
    const int step = axis.step();
    for (double year = std::ceil(axis.first / step) * step; year <= axis.last; year += step) {
        svg.open("line")
            .attribute("x1", axis.x(year))
            .attribute("x2", axis.x(year))
            .attribute("y1", top)
            .attribute("y2", top + height + 8);
        svg.attribute("stroke", "#BBBBBB").attribute("stroke-width", 0.8).close();
        write_text_line(svg, {fmt::format("{:.0f}", year), 11, Face::book, false}, axis.x(year), sheet.y(),
                        Anchor::middle);
    }
    svg.close();
}

void write_legend(Sheet& sheet, bool pieces, bool solved) {
    sheet.heading("How to read it");
    struct Entry {
        const char* words;
        int drawing;
    };
    static constexpr Entry kEntries[] = {{"in production on the evidence drawn", 0},
                                         {"possibly in production", 1},
                                         {"runs on, no end known", 2},
                                         {"modelled", 3},
                                         {"introduced (earliest date given)", 4},
                                         {"dropped (latest date given)", 5},
                                         {"a dated piece; the thin line below: how far its date reaches", 6},
                                         {"worked out from all that bounds it: solid at least, thin at most", 7}};
    auto& svg = sheet.svg();
    double x = kMargin, y = sheet.y() + 10;
    for (const auto& entry : kEntries) {
        if ((entry.drawing == 6 && !pieces) || (entry.drawing == 7 && !solved)) continue;
        const double width = 58 + text_width(entry.words, 12) + 24;
        if (x + width > kMargin + sheet.content_width()) {
            x = kMargin;
            y += 24;
        }
        if (entry.drawing == 0) write_rect(svg, x + 4, x + 46, y, colour::sky_blue, colour::ink);
        if (entry.drawing == 1) write_hatched(svg, x + 4, x + 46, y);
        if (entry.drawing == 2) {
            write_hatched(svg, x + 4, x + 38, y);
            write_runs_on(svg, x + 38, y, 1);
        }
        if (entry.drawing == 3) write_mark(svg, RunMark::modelled, x + 25, y);
        if (entry.drawing == 4) write_mark(svg, RunMark::introduced, x + 21, y);
        if (entry.drawing == 5) write_mark(svg, RunMark::dropped, x + 29, y);
        if (entry.drawing == 6) write_mark(svg, RunMark::made, x + 25, y);
        if (entry.drawing == 7) {
            Axis sample;
            sample.first = 0;
            sample.last = kPlot;
            sample.left = x;
            SolvedRun run;
            run.from_low = 4;
            run.from_high = 14;
            run.to_low = 36;
            run.to_high = 46;
            write_solved(svg, sample, run, y);
        }
        write_text_line(svg, {entry.words, 12, Face::book, false}, x + 54, y - 8, Anchor::start);
        x += width;
    }
    sheet.skip(y + 16 - sheet.y());
}

}  // namespace

std::string to_svg(const RunChart& chart, const std::string& id_prefix) {
    Sheet sheet({"runs", chart.title, chart.description, chart.made_from, chart.left_out, id_prefix},
                kNames + kPlot + kWords + 2 * kGap);
    Axis axis = axis_of(chart);
    axis.left = kMargin + kNames + kGap;
    std::vector<RowText> texts;
    double height = 0;
    for (const auto& row : chart.rows) {
        texts.push_back(text_of(row));
        height += texts.back().height;
    }
    write_axis(sheet, axis, height);
    sheet.skip(kAxis);
    for (std::size_t i = 0; i < chart.rows.size(); ++i) {
        const auto& row = chart.rows[i];
        auto& svg = sheet.svg();
        const double top = sheet.y(), middle = top + texts[i].height / 2;
        svg.open("g")
            .attribute("id", fmt::format("{}-r{}", id_prefix, i))
            .attribute("class", "row")
            .attribute("role", "graphics-symbol");
        svg.attribute("tabindex", "0").attribute("aria-label", spoken_row(row)).attribute("data-key", row.key);
        svg.open("line")
            .attribute("x1", kMargin)
            .attribute("x2", kMargin + sheet.content_width())
            .attribute("y1", top)
            .attribute("y2", top);
        svg.attribute("stroke", "#DDDDDD").attribute("stroke-width", 0.8).close();
        double y =
            middle - (static_cast<double>(texts[i].name.lines.size()) * 13 + type_size::kind) * type_size::line / 2;
        write_text_line(svg, {clean_line(row.kind), type_size::kind, Face::book, true}, kMargin, y, Anchor::start);
        y += type_size::kind * type_size::line;
        for (const auto& line : texts[i].name.lines) {
            write_text_line(svg, {line, 13, Face::bold, false}, kMargin, y, Anchor::start);
            y += 13 * type_size::line;
        }
        write_bar(svg, axis, row, middle);
        if (row.solved) write_solved(svg, axis, *row.solved, middle - 15);
        write_events(svg, axis, row, middle);
        y = middle - static_cast<double>(texts[i].words.size()) * kTextSize * type_size::line / 2;
        for (const auto& line : texts[i].words) {
            write_text_line(svg, line, axis.left + kPlot + kGap, y, Anchor::start);
            y += line.size * type_size::line;
        }
        svg.close();
        sheet.skip(texts[i].height);
    }
    bool pieces = false, solved = false;
    for (const auto& row : chart.rows) {
        solved = solved || row.solved;
        for (const auto& event : row.events) pieces = pieces || event.mark == RunMark::made;
    }
    write_legend(sheet, pieces, solved);
    sheet.cautions(chart.cautions);
    sheet.citations(chart.citations);
    return sheet.finish();
}

}  // namespace saggar::viz
