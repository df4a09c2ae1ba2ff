#include "viz/year_band.h"

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include "kg/weigh/weigher.h"
#include "queries/time_rules.h"
#include "small_graph.h"
#include "viz/run_chart.h"

using namespace saggar;
using namespace saggar::viz;
using saggar::testing::SmallGraph;

namespace {

YearBand band_of(const SmallGraph& graph, const char* key) {
    Weigher weigher(graph.snapshot());
    const auto rules = TimeRules::of(graph.snapshot().vocabulary());
    DatingQuestion question;
    question.thing = graph.id(key);
    return year_band(graph.snapshot(), date_thing(graph.snapshot(), weigher, rules, question),
                     date_years(graph.snapshot(), weigher, rules, question), {});
}

}  // namespace

TEST_CASE("each time point has a lane with its bounds in words and the citations of each side") {
    const SmallGraph graph;
    const auto band = band_of(graph, "shape:lantern");  // introduced January 1936 [1]; dropped 1954 or 1956
    REQUIRE(band.lanes.size() >= 2);
    bool introduced = false;
    for (const auto& lane : band.lanes) {
        if (lane.words != "was introduced in January 1936") continue;
        introduced = true;
        CHECK(lane.earliest == Approx(1936));
        CHECK(lane.latest == Approx(1936 + 31.0 / 366));
        CHECK(lane.cited_words.find(" [") != std::string::npos);
    }
    CHECK(introduced);
    CHECK(band.description.find("Lantern was") == 0);
    CHECK_FALSE(band.citations.empty());
}

TEST_CASE("the picture of years is XML, gives no raw date and names every lane") {
    const SmallGraph graph;
    const auto band = band_of(graph, "shape:lantern");
    const auto svg = to_svg(band);
    pugi::xml_document document;
    REQUIRE(document.load_buffer(svg.data(), svg.size()));
    CHECK(svg.find("1936-01-01") == std::string::npos);
    CHECK(svg.find("1936-01-31") == std::string::npos);
    for (const auto& lane : band.lanes) CHECK(svg.find("aria-label=\"" + lane.cited_words) != std::string::npos);
    CHECK_NOTHROW(to_svg(YearBand{}));
}

TEST_CASE("a run chart tells the run that the dating comes to") {
    const SmallGraph graph;
    Weigher weigher(graph.snapshot());
    RunOptions options;
    options.dated = dated_by(graph.snapshot(), weigher, false);
    const auto chart = run_chart(graph.snapshot(), {graph.id("shape:lantern"), graph.id("shape:pinnace")}, options);
    REQUIRE(chart.rows[0].solved);
    CHECK(chart.rows[0].solved->from_low == Approx(1936));
    CHECK(chart.rows[0].solved->words.find("was introduced in January 1936") != std::string::npos);
    CHECK_FALSE(chart.rows[0].solved->cited.empty());
    const auto table = to_table(chart);
    REQUIRE(table[0].size() == 6);
    CHECK(table[0][5] == "worked out");
    CHECK(to_svg(chart).find("worked out") != std::string::npos);
}
