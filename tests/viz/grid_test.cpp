#include "viz/grid.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <pugixml.hpp>

#include "small_graph.h"
#include "viz/paint/paint.h"

using namespace saggar;
using namespace saggar::viz;
using saggar::testing::SmallGraph;

namespace {

const GridCell& cell(const Grid& grid, const std::string& row, const std::string& column) {
    for (std::size_t r = 0; r < grid.rows.size(); ++r) {
        for (std::size_t c = 0; c < grid.columns.size(); ++c) {
            if (grid.rows[r].label == row && grid.columns[c].label == column) return grid.cells[r][c];
        }
    }
    FAIL("no cell " << row << ", " << column);
    throw 0;
}

void show(const std::string& name, const std::string& svg) {
    pugi::xml_document document;
    CHECK(document.load_buffer(svg.data(), svg.size()));
    CHECK(svg.find("PLANTED") == std::string::npos);
    if (const char* folder = std::getenv("SAGGAR_PICTURES"))
        std::ofstream(std::string(folder) + "/" + name + ".png") << svg_to_png(svg, 96);
}

}  // namespace

TEST_CASE("made, not made, one buyer's, borrowed, disputed and unknown are told apart") {
    const SmallGraph graph;
    const auto& s = graph.snapshot();
    const auto g = grid(
        s, {graph.id("shape:fathom"), graph.id("shape:lantern"), graph.id("shape:pinnace"), graph.id("shape:tern")},
        {});
    CHECK(cell(g, "Tern", "teapot").state == CellState::made);
    CHECK(cell(g, "Tern", "tureen").state == CellState::disputed);  // a photograph against a complete list
    CHECK(cell(g, "Tern", "sauce boat").state ==
          CellState::not_made);  // the list leaves it out and nothing else is known
    CHECK(cell(g, "Tern", "sauce boat").cited_against.size() == 1);
    CHECK(cell(g, "Lantern", "sauce boat").state == CellState::one_buyer);
    CHECK(cell(g, "Lantern", "sauce boat").note == "Northern");
    CHECK(cell(g, "Fathom", "tureen").state == CellState::not_made);  // denied in words
    CHECK(cell(g, "Pinnace", "teapot").state == CellState::borrowed);
    CHECK(cell(g, "Pinnace", "teapot").note == "Lantern teapot");
    CHECK(cell(g, "Pinnace", "tureen").state == CellState::unknown);
    show("grid", to_svg(g));
    const auto table = to_table(g);
    REQUIRE(table.size() == 5);
    CHECK(table[0][1] == "sauce boat");
    CHECK(table[3][1] == "? unknown");
}

TEST_CASE("more columns than asked for are counted as left out") {
    const SmallGraph graph;
    GridOptions options;
    options.most_columns = 1;
    const auto g = grid(graph.snapshot(), {graph.id("shape:tern")}, options);
    CHECK(g.columns.size() == 1);
    CHECK(g.left_out.find("column") != std::string::npos);
}

TEST_CASE("a grid of another relation, with a caution") {
    const SmallGraph graph;
    GridOptions options;
    options.relation = "glazed-in";
    const auto g = grid(graph.snapshot(), {graph.id("shape:lantern"), graph.id("shape:tern")}, options);
    REQUIRE(g.columns.size() == 1);
    CHECK(g.columns[0].caution);
    CHECK(g.cautions.size() == 1);
    CHECK(cell(g, "Lantern", "Ember").state == CellState::made);
    CHECK(cell(g, "Tern", "Ember").state == CellState::unknown);
}
