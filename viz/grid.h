// Grids: shapes against articles, shapes against treatments: which exist, which never did, which nobody knows of.
//
// "There never was one" is told from "none is known": a cell says `not made` only where evidence denies it or a list
// said to be complete leaves it out. Read in grid_cells.cpp, written as a picture in grid_svg.cpp or as a table of
// texts.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "queries/cite.h"
#include "viz/diagram.h"
#include "viz/figures.h"

namespace saggar::viz {

enum class CellState { unknown, made, not_made, one_buyer, borrowed, disputed };
std::string_view cell_sign(CellState state);  // for texts

struct GridCell {
    CellState state = CellState::unknown;
    std::optional<double> support;
    std::string note;  // the buyer's line, what it was borrowed from; may be empty
    std::vector<int> cited_for, cited_against;
};

struct GridHead {
    std::string key, label;
    bool caution = false;
};

struct Grid {
    std::string title, description, made_from, left_out;
    std::vector<GridHead> rows, columns;
    std::vector<std::vector<GridCell>> cells;  // [row][column]
    std::vector<Citation> citations;
    std::vector<std::string> cautions;
    bool of_articles = true;  // cells say "made" and "not made", otherwise "yes" and "no"

    std::string_view word(CellState state) const;
};

struct GridOptions {
    FigureOf figure;                     // empty: states from the stances alone
    std::string relation = "comprises";  // from row to column
    std::vector<EntityId> columns;       // only these, in this order; empty: see most_columns
    std::size_t most_columns = 40;       // the columns with most known cells are kept, the rest counted as left out
    std::size_t most_cited = 2;          // citations a cell names for and against
    bool with_private = false;
    CiteStyle cite;
    std::string made_from;
};

// Rows as given; columns: every object of the relation, in label order. For `comprises` also items of the shape with
// their article, and what they were borrowed from. Cost: the claims of the rows and of their items.
Grid grid(const Snapshot& snapshot, const std::vector<EntityId>& rows, const GridOptions& options);

std::string to_svg(const Grid& grid, const std::string& id_prefix = "s");

// The first row is the heading; cells as "made [1, 2]".
std::vector<std::vector<std::string>> to_table(const Grid& grid);

}  // namespace saggar::viz
