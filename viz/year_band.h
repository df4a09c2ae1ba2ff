// By-year figures as a band: for each year how far the evidence allows it (outline) and how far it supports it (hatched).
//
// Under the years stands a lane for each time point (made, introduced, dropped) with its bounds and their citations.
// The two are told apart by outline and hatching, not by colour, and every bar is named in the picture's text.
#pragma once

#include <string>
#include <vector>

#include "queries/dating.h"
#include "queries/dating_years.h"
#include "viz/draft.h"

namespace saggar::viz {

// One time point of the thing: from when to when it can lie, and which citations bound it on either side.
struct YearLane {
    std::string words;                // "was made not before February 1951, not after February 1952"
    std::string cited_words;          // "was made not before February 1951 [1-3], not after February 1952 [4]"
    double earliest = 0, latest = 0;  // decimal years; infinite where open
};

struct YearBand {
    std::string title, description, made_from;
    DatingYears years;
    std::vector<YearLane> lanes;
    std::vector<Citation> citations;  // of the claims that bind either side
};

// The band of a dated thing: its answer in words above, the claims that bind it cited below.
YearBand year_band(const Snapshot& snapshot, const DatingAnswer& answer, const DatingYears& years,
                   const DraftOptions& draft);

std::string to_svg(const YearBand& band, const std::string& id_prefix = "s");

// year, possible, supported; the first row is the heading. The lanes' words are the description.
std::vector<std::vector<std::string>> to_table(const YearBand& band);

}  // namespace saggar::viz
