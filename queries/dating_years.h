// For each year: how far the evidence allows that the thing was made (or in use) then, and how far it supports it.
//
// A year is excluded where some chain of claims puts the beginning after it or the end before it, and pinned where chains
// put the beginning no later and the end no earlier. A chain counts when all its claims are supported and none refuted
// (the "uncontested" figure of evidence.md, section 3); chains share claims and sources, so they are weighed together, over the union
// of their lineages. What contradicts in time is left out: with K for "some chains contradict",
//   possible  = 1 - (P(excluded or K) - P(K)) / (1 - P(K)),      supported = (P(pinned or K) - P(K)) / (1 - P(K)).
// These are the plausibility and the belief of the year (Shafer 1976); supported <= possible. A year between two stints of
// a period is excluded by the claims of the period.
#pragma once

#include <string>
#include <vector>

#include "kg/weigh/weigher.h"
#include "queries/dating.h"

namespace saggar {

struct DatingYear {
    std::int64_t year = 0;
    double possible = 1;
    double supported = 0;
};

struct DatingYears {
    std::vector<DatingYear> years;  // in order; empty where nothing bounds the thing on either side
    double contradiction = 0;       // P(K): how far the dates contradict each other
    Method method = Method::exact;  // sampled where any figure was
    double half_width = 0;          // the widest, at 95 %
    bool complete = true;      // false: only the tightest chains were weighed; years may be less possible than said
    bool open_before = false;  // nothing bounds the beginning (end): the years go on at the same figures
    bool open_after = false;
    std::string profile;  // that weighed it
};

struct DatingYearsOptions {
    std::size_t most_chains = 24;  // on each side
    std::size_t most_years = 300;
};

// Asks about the run that the vocabulary names for the thing's kind; nothing (no years) where it names none.
DatingYears date_years(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules,
                       const DatingQuestion& question, const DatingYearsOptions& options = {});

}  // namespace saggar
