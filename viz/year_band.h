// By-year figures as a band: for each year how far the evidence allows it (outline) and how far it supports it (hatched).
//
// The two are told apart by outline and hatching, not by colour, and every bar is named in the picture's text.
#pragma once

#include <string>
#include <vector>

#include "queries/dating.h"
#include "queries/dating_years.h"
#include "viz/draft.h"

namespace saggar::viz {

struct YearBand {
    std::string title, description, made_from;
    DatingYears years;
    std::vector<Citation> citations;  // of the claims that bind either side
};

// The band of a dated thing: its answer in words above, the claims that bind it cited below.
YearBand year_band(const Snapshot& snapshot, const DatingAnswer& answer, const DatingYears& years,
                   const DraftOptions& draft);

std::string to_svg(const YearBand& band, const std::string& id_prefix = "s");

// year, possible, supported; the first row is the heading.
std::vector<std::vector<std::string>> to_table(const YearBand& band);

}  // namespace saggar::viz
