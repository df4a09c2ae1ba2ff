// Files for pictures: which format, and how a picture becomes it.
#pragma once

#include <optional>
#include <string>

#include "app/verb.h"
#include "viz/draft.h"
#include "viz/grid.h"
#include "viz/run_chart.h"
#include "viz/year_band.h"

namespace saggar::app {

// A picture of one sort. Diagrams can be written as DOT, charts and grids as a table.
struct Drawing {
    std::optional<viz::Diagram> diagram;
    std::optional<viz::RunChart> runs;
    std::optional<viz::Grid> grid;
    std::optional<viz::YearBand> years;
};

enum class PictureFormat { dot, svg, pdf, png, table };

// From --as, else from the ending of the file's name; nothing given: a table for charts and grids, DOT otherwise.
PictureFormat picture_format(const std::string& as, const std::string& file, const Drawing& drawing);

// The whole file. Diagrams with more boxes than can be laid out are put together by kind first. Faults: LimitFault,
// UsageFault. `resolution`: of PNG, dots to the inch.
std::string picture_bytes(const Drawing& drawing, PictureFormat format, const Layout& layout, double resolution);

}  // namespace saggar::app
