#include "viz/year_band.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "queries/cite_graph.h"
#include "queries/cite_notes.h"
#include "queries/statement.h"
#include "viz/notation.h"
#include "viz/sheet.h"
#include "viz/svg_parts.h"

namespace saggar::viz {
namespace {

constexpr double kPlotHeight = 160, kAxisWidth = 34, kLabelSize = 11;

std::string day_words(time::Day day) { return time::is_limit(day) ? "not known" : time::to_text(day); }

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

void key(Sheet& sheet, const std::string& pattern) {
    const double top = sheet.y() + 4;
    double x = kMargin;
    for (const auto& [fill, words] :
         {std::pair<std::string, std::string>{std::string(colour::paper),
                                              "outline: how far the evidence allows the year"},
          {"url(#" + pattern + ")", "hatched: how far it supports that year and no other"}}) {
        sheet.svg().open("rect").attribute("x", x).attribute("y", top).attribute("width", 18).attribute("height", 12);
        sheet.svg().attribute("fill", fill).attribute("stroke", colour::ink).close();
        text_at(sheet.svg(), x + 25, top + 10, "start", words);
        x += 320;
    }
    sheet.skip(30);
}

}  // namespace

YearBand year_band(const Snapshot& snapshot, const DatingAnswer& answer, const DatingYears& years,
                   const DraftOptions& draft) {
    YearBand band;
    band.title = "When: " + snapshot.label_of(answer.thing);
    band.made_from = draft.made_from;
    band.years = years;
    Notes notes(draft.cite);
    std::set<ClaimRef> cited;
    for (const DatedPoint& point : answer.points) {
        if (point.bounds.empty()) continue;
        band.description += fmt::format("{}{}: not before {}, not after {}.", band.description.empty() ? "" : " ",
                                        point.label, day_words(point.earliest), day_words(point.latest));
        for (const DatingBound& bound : point.bounds) {
            if (!bound.binds) continue;
            for (const ClaimRef claim : bound.because) {
                if (!cited.insert(claim).second) continue;
                const auto row = snapshot.claim(claim);
                if (!row || (row->claim.is_private && !draft.with_private)) continue;
                for (const EvidenceRow& evidence : row->evidence)
                    if (!evidence.is_private || draft.with_private)
                        notes.number_of(source_of(snapshot, evidence.source), evidence.at, evidence.quote);
            }
        }
    }
    if (!answer.contradictions.empty()) band.description += " Some dates cannot all hold; the weakest were set aside.";
    int number = 0;
    for (const CitedText& note : notes.texts()) band.citations.push_back({++number, to_plain(note)});
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
    if (years.empty()) return sheet.finish();
    const std::string pattern = id_prefix + "-hatched";
    hatching(sheet.svg(), pattern);
    const double left = kMargin + kAxisWidth;
    const double right = kMargin + sheet.content_width();
    const double bottom = sheet.y() + 14 + kPlotHeight;
    const double pitch = (right - left) / static_cast<double>(years.size());
    const double width = std::clamp(pitch - 3, 2.0, 42.0);
    scale(sheet.svg(), left, right, bottom);
    // A year's name wants about 34 px.
    const auto every = static_cast<std::size_t>(std::max(1.0, std::ceil(34 / pitch)));
    for (std::size_t i = 0; i < years.size(); ++i) {
        const double middle = left + (static_cast<double>(i) + .5) * pitch;
        bar(sheet.svg(), middle - width / 2, width, bottom, years[i], pattern);
        if (i % every == 0) text_at(sheet.svg(), middle, bottom + 16, "middle", std::to_string(years[i].year));
    }
    sheet.skip(kPlotHeight + 42);
    key(sheet, pattern);
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
