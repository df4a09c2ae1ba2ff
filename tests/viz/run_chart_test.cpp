#include "viz/run_chart.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <pugixml.hpp>

#include "small_graph.h"
#include "viz/paint/paint.h"

using namespace saggar;
using namespace saggar::viz;
using saggar::testing::SmallGraph;

TEST_CASE("rows hold what is certain and what is possible") {
    const SmallGraph graph;
    const auto chart = run_chart(
        graph.snapshot(),
        {graph.id("shape:lantern"), graph.id("shape:fathom"), graph.id("shape:pinnace"), graph.id("line:northern")},
        {});
    REQUIRE(chart.rows.size() == 4);
    const auto& lantern = chart.rows[0];  // introduced January 1936; dropped 1954 or 1956
    CHECK(lantern.possible_from == Approx(1936));
    CHECK(lantern.certain_from == Approx(1936 + 31.0 / 366));
    CHECK(lantern.certain_to == Approx(1954));
    CHECK(lantern.possible_to == Approx(1957));
    const auto& fathom = chart.rows[1];  // introduced about 1930, five years either way; a piece of 1934; no end known
    CHECK(fathom.possible_from == Approx(1925));
    CHECK(std::isinf(fathom.possible_to));
    CHECK_FALSE(chart.rows[2].any);
    const auto table = to_table(chart);
    REQUIRE(table.size() == 5);
    CHECK(table[1][2] == "January 1936 [1]");
    CHECK(table[2][4] == "1934 [5]");
    CHECK(table[3][1] == "not known");
}

TEST_CASE("the chart is a picture with its citations and says what is not known") {
    const SmallGraph graph;
    const auto svg = to_svg(run_chart(
        graph.snapshot(),
        {graph.id("shape:lantern"), graph.id("shape:fathom"), graph.id("shape:pinnace"), graph.id("line:northern")},
        {}));
    pugi::xml_document document;
    REQUIRE(document.load_buffer(svg.data(), svg.size()));
    CHECK(svg.find("no date is known") != std::string::npos);
    CHECK(svg.find("The Crockery Packer") != std::string::npos);
    if (const char* folder = std::getenv("SAGGAR_PICTURES"))
        std::ofstream(std::string(folder) + "/runs.png") << svg_to_png(svg, 96);
}

TEST_CASE("sixty rows and none are both fine") {
    RunChart chart;
    chart.title = "Sixty rows";
    for (int i = 0; i < 60; ++i) {
        RunRow row;
        row.label = "Shape number " + std::to_string(i);
        RunEvent event;
        event.earliest = 1920 + i;
        event.latest = 1921 + i;
        event.date = std::to_string(1920 + i);
        row.events = {event};
        row.possible_from = event.earliest;
        row.certain_from = event.latest;
        row.certain_to = 1980;
        row.possible_to = 1985;
        row.any = true;
        chart.rows.push_back(row);
    }
    const auto svg = to_svg(chart);
    pugi::xml_document document;
    CHECK(document.load_buffer(svg.data(), svg.size()));
    CHECK(document.document_element().attribute("height").as_double() < 60 * 60);
    CHECK_NOTHROW(to_svg(RunChart{}));
}
