#include "viz/year_band.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "queries/cite_date.h"
#include "queries/cite_graph.h"
#include "queries/cite_notes.h"
#include "queries/statement.h"
#include "viz/decimal_year.h"
#include "viz/notation.h"
#include "viz/sheet.h"
#include "viz/svg_parts.h"

namespace saggar::viz {
namespace {

constexpr double kPlotHeight = 160, kAxisWidth = 34, kLabelSize = 11, kLaneText = 12;

// Years worth a bar: those between the first and the last that is possible at all.
std::vector<DatingYear> shown_years(const DatingYears& years) {
    const auto possible = [](const DatingYear& year) { return year.possible >= .005; };
    const auto first = std::find_if(years.years.begin(), years.years.end(), possible);
    const auto last = std::find_if(years.years.rbegin(), years.years.rend(), possible).base();
    return first < last ? std::vector<DatingYear>(first, last) : std::vector<DatingYear>{};
}

void text_at(XmlWriter& svg, double x, double y, std::string_view anchor, std::string_view text) {
    svg.open("text").attribute("x", x).attribute("y", y).attribute("text-anchor", anchor);
    svg.attribute("font-family", kFontFamily)
        .attribute("font-size", kLabelSize)
        .attribute("fill", colour::ink)
        .text(text)
        .close();
}

// Years along the foot: from the first that is drawn to the end of the last.
struct YearAxis {
    double first = 0, last = 1, left = 0, right = 1;
    double pitch() const { return (right - left) / (last - first); }
    double x(double year) const { return left + (std::clamp(year, first, last) - first) * pitch(); }
};

YearAxis axis_of(const std::vector<DatingYear>& years, const std::vector<YearLane>& lanes, double left, double right) {
    YearAxis axis{1e9, -1e9, left, right};
    const auto take = [&axis](double from, double to) {
        if (std::isfinite(from)) axis.first = std::min(axis.first, std::floor(from));
        if (std::isfinite(to)) axis.last = std::max(axis.last, std::ceil(to));
    };
    if (!years.empty()) take(static_cast<double>(years.front().year), static_cast<double>(years.back().year + 1));
    for (const auto& lane : lanes) take(lane.earliest, lane.latest);
    for (const auto& lane : lanes) {  // where only one side is known, some of the other is shown
        if (!std::isfinite(lane.earliest)) take(lane.latest - 1, lane.latest);
        if (!std::isfinite(lane.latest)) take(lane.earliest, lane.earliest + 1);
    }
    return axis;
}

void hatching(XmlWriter& svg, const std::string& id) {
    svg.open("defs").open("pattern").attribute("id", id).attribute("width", 6).attribute("height", 6);
    svg.attribute("patternUnits", "userSpaceOnUse").attribute("patternTransform", "rotate(45)");
    svg.open("rect").attribute("width", 6).attribute("height", 6).attribute("fill", colour::sky_blue).close();
    svg.open("line").attribute("x1", 0).attribute("y1", 0).attribute("x2", 0).attribute("y2", 6);
    svg.attribute("stroke", colour::blue).attribute("stroke-width", 2.5).close().close().close();
}

void bar(XmlWriter& svg, double x, double width, double bottom, const DatingYear& year, const std::string& pattern) {
    svg.open("g")
        .attribute("role", "graphics-symbol")
        .attribute("aria-label", fmt::format("{}: possible {}, supported {}", year.year, weight_text(year.possible),
                                             weight_text(year.supported)));
    const double outer = year.possible * kPlotHeight;
    svg.open("rect")
        .attribute("x", x)
        .attribute("y", bottom - outer)
        .attribute("width", width)
        .attribute("height", outer);
    svg.attribute("fill", colour::paper).attribute("stroke", colour::ink).attribute("stroke-width", 1).close();
    const double inner = year.supported * kPlotHeight;
    if (inner >= .5) {
        svg.open("rect")
            .attribute("x", x + 1.5)
            .attribute("y", bottom - inner)
            .attribute("width", std::max(1.0, width - 3));
        svg.attribute("height", inner).attribute("fill", "url(#" + pattern + ")").close();
    }
    svg.close();
}

void scale(XmlWriter& svg, double left, double right, double bottom) {
    for (const double part : {0.0, .5, 1.0}) {
        const double y = bottom - part * kPlotHeight;
        svg.open("line").attribute("x1", left).attribute("x2", right).attribute("y1", y).attribute("y2", y);
        svg.attribute("stroke", colour::grey).attribute("stroke-width", .6).close();
        text_at(svg, left - 5, y + 4, "end", fmt::format("{:.1f}", part));
    }
}

// A triangle with its upright side on the day, pointing at what lies between the bounds.
void write_bound(XmlWriter& svg, double x, double y, bool earliest) {
    svg.open("path").attribute("d", fmt::format("M{},{} L{},{} L{},{} Z", number(x), number(y - 6),
                                                number(x + (earliest ? 8 : -8)), number(y), number(x), number(y + 6)));
    svg.attribute("fill", earliest ? colour::bluish_green : colour::vermillion);
    svg.attribute("stroke", colour::ink).attribute("stroke-width", 1).close();
}

void key(Sheet& sheet, const std::string& pattern, bool lanes) {
    sheet.heading("How to read it");
    const double top = sheet.y() + 4;
    double x = kMargin;
    for (const auto& [fill, words] : {std::pair<std::string, std::string>{
                                          std::string(colour::paper), "outline: how far the evidence allows the year"},
                                      {"url(#" + pattern + ")", "hatched: how far it supports the year"}}) {
        sheet.svg().open("rect").attribute("x", x).attribute("y", top).attribute("width", 18).attribute("height", 12);
        sheet.svg().attribute("fill", fill).attribute("stroke", colour::ink).close();
        text_at(sheet.svg(), x + 25, top + 10, "start", words);
        x += 340;
    }
    sheet.skip(24);
    if (!lanes) return;
    const double middle = sheet.y() + 8;
    write_bound(sheet.svg(), kMargin + 5, middle, true);
    text_at(sheet.svg(), kMargin + 25, middle + 4, "start", "not before this day");
    write_bound(sheet.svg(), kMargin + 340 + 13, middle, false);
    text_at(sheet.svg(), kMargin + 340 + 25, middle + 4, "start", "not after this day");
    sheet.skip(24);
}

// The words of a lane with the citations of each side; once where both have the same.
std::string cited_words(const DatedPoint& point, const std::string& words, const std::string& before,
                        const std::string& after, DateOrder order) {
    if (before.empty() && after.empty()) return words;
    if (before == after || after.empty()) return words + " " + before;
    if (before.empty()) return words + " " + after;
    const bool apart = words.find("not before") != std::string::npos;
    if (!apart) return fmt::format("{}: not before {}, not after {}", words, before, after);
    return fmt::format("{} {} {}, {} {}", point.label, range_in_words(point.earliest, time::after_all, order), before,
                       range_in_words(time::before_all, point.latest, order), after);
}

// A triangle at each bound; a line between them. What is open runs off the edge.
void write_lane(XmlWriter& svg, const YearLane& lane, const YearAxis& axis, double y) {
    const double from = axis.x(lane.earliest), to = axis.x(lane.latest);
    svg.open("line").attribute("x1", from).attribute("x2", to).attribute("y1", y).attribute("y2", y);
    svg.attribute("stroke", colour::ink).attribute("stroke-width", 2).close();
    if (std::isfinite(lane.earliest)) write_bound(svg, from, y, true);
    if (std::isfinite(lane.latest)) write_bound(svg, to, y, false);
}

void write_lanes(Sheet& sheet, const std::vector<YearLane>& lanes, const YearAxis& axis) {
    for (const auto& lane : lanes) {
        sheet.svg()
            .open("g")
            .attribute("role", "graphics-symbol")
            .attribute("tabindex", "0")
            .attribute("aria-label", lane.cited_words);
        sheet.paragraph(lane.cited_words, kLaneText);
        write_lane(sheet.svg(), lane, axis, sheet.y() + 9);
        sheet.svg().close();
        sheet.skip(24);
    }
}

// Citation numbers of the evidence for the claims behind one side's binding bounds.
class BoundCiter {
public:
    BoundCiter(const Snapshot& snapshot, const DraftOptions& draft)
        : snapshot_(snapshot), draft_(draft), notes_(draft.cite) {}

    std::vector<int> cite(const DatedPoint& point, bool earliest) {
        std::set<int> numbers;
        for (const DatingBound& bound : point.bounds) {
            if (!bound.binds || bound.is_earliest != earliest) continue;
            for (const ClaimRef claim : bound.because) add(claim, numbers);
        }
        return {numbers.begin(), numbers.end()};
    }

    std::vector<Citation> citations() const {
        std::vector<Citation> all;
        for (const CitedText& note : notes_.texts()) all.push_back({static_cast<int>(all.size()) + 1, to_plain(note)});
        return all;
    }

private:
    void add(ClaimRef ref, std::set<int>& numbers) {
        const auto row = snapshot_.claim(ref);
        Privacy privacy(snapshot_, draft_.with_private);
        if (!row || !privacy.may_show(*row)) return;
        for (const EvidenceRow& evidence : row->evidence) {
            const Source source = source_of(snapshot_, evidence.source);
            if (evidence.stance == Stance::against) continue;
            if (!privacy.may_show(evidence)) continue;
            numbers.insert(notes_.number_of(source, evidence.at, evidence.quote));
        }
    }

    const Snapshot& snapshot_;
    const DraftOptions& draft_;
    Notes notes_;
};

}  // namespace

YearBand year_band(const Snapshot& snapshot, const DatingAnswer& answer, const DatingYears& years,
                   const DraftOptions& draft) {
    YearBand band;
    band.title = "When: " + snapshot.label_of(answer.thing);
    band.made_from = fmt::format("Graph entry {}", snapshot.entry());
    if (!draft.made_from.empty()) band.made_from += "; " + draft.made_from;
    band.made_from += ". Weights follow the conventions of the weighing profile; they are not facts.";
    band.years = years;
    BoundCiter citer(snapshot, draft);
    for (const DatedPoint& point : answer.points) {
        if (point.bounds.empty()) continue;
        YearLane lane;
        lane.words = point.label + " " + range_in_words(point.earliest, point.latest, draft.cite.dates);
        lane.earliest = decimal_year(point.earliest, false);
        lane.latest = decimal_year(point.latest, true);
        const auto before = numbers_text(citer.cite(point, true)), after = numbers_text(citer.cite(point, false));
        lane.cited_words = cited_words(point, lane.words, before, after, draft.cite.dates);
        band.description +=
            fmt::format("{}{}", band.description.empty() ? snapshot.label_of(answer.thing) + " " : "; ", lane.words);
        band.lanes.push_back(std::move(lane));
    }
    if (!band.description.empty()) band.description += ".";
    if (!answer.contradictions.empty()) band.description += " Some dates cannot all hold; the weakest were set aside.";
    band.citations = citer.citations();
    return band;
}

std::string to_svg(const YearBand& band, const std::string& id_prefix) {
    const std::vector<DatingYear> years = shown_years(band.years);
    SheetText text;
    text.name = "years";
    text.title = band.title;
    text.description = band.description.empty() ? "Nothing dates it." : band.description;
    text.made_from = band.made_from;
    text.id_prefix = id_prefix;
    Sheet sheet(text, 720);
    if (years.empty() && band.lanes.empty()) return sheet.finish();
    const std::string pattern = id_prefix + "-hatched";
    hatching(sheet.svg(), pattern);
    const YearAxis axis = axis_of(years, band.lanes, kMargin + kAxisWidth, kMargin + sheet.content_width());
    const double bottom = sheet.y() + 14 + kPlotHeight;
    const double width = std::clamp(axis.pitch() - 3, 2.0, 42.0);
    scale(sheet.svg(), axis.left, axis.right, bottom);
    for (const auto& year : years) {
        const double middle = axis.x(static_cast<double>(year.year) + .5);
        bar(sheet.svg(), middle - width / 2, width, bottom, year, pattern);
    }
    // A year's name wants about 34 px.
    const double every = std::max(1.0, std::ceil(34 / axis.pitch()));
    for (double year = axis.first; year < axis.last; year += every)
        text_at(sheet.svg(), axis.x(year + .5), bottom + 16, "middle", fmt::format("{:.0f}", year));
    sheet.skip(kPlotHeight + 42);
    write_lanes(sheet, band.lanes, axis);
    sheet.skip(6);
    key(sheet, pattern, !band.lanes.empty());
    if (band.years.contradiction >= .005)
        sheet.paragraph(fmt::format("The dates contradict each other to {}; the figures leave that aside.",
                                    weight_text(band.years.contradiction)));
    if (band.years.method == Method::sampled)
        sheet.paragraph(fmt::format("Sampled; half-width {:.2g} at 95 %.", band.years.half_width), 11, true);
    sheet.citations(band.citations);
    return sheet.finish();
}

std::vector<std::vector<std::string>> to_table(const YearBand& band) {
    std::vector<std::vector<std::string>> rows = {{"year", "possible", "supported"}};
    for (const DatingYear& year : shown_years(band.years))
        rows.push_back({std::to_string(year.year), weight_text(year.possible), weight_text(year.supported)});
    return rows;
}

}  // namespace saggar::viz
