// Run charts: from when to when things were made, one row a thing, uncertain ends shown as such.
//
// The rows are read from claims (run_rows.cpp), written as a picture (run_chart_svg.cpp) or as a table of texts.
// Years are the unit: a day is a fraction of its year.
#pragma once

#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "queries/cite.h"
#include "queries/dating.h"
#include "viz/diagram.h"
#include "viz/figures.h"

namespace saggar::viz {

enum class RunMark { modelled, introduced, dropped, made };
std::string_view run_mark_word(RunMark mark);

// One dated claim.
struct RunEvent {
    RunMark mark = RunMark::introduced;
    double earliest = 0, latest = 0;  // decimal years; infinite where open
    std::string date;                 // in words
    std::string note;                 // "on the piece Jug 12"; may be empty
    std::optional<double> support;
    bool disputed = false;
    std::vector<int> cited_for, cited_against;
};

// What the dating of a thing comes to: from everything that bounds it, not from its own dates alone.
struct SolvedRun {
    static constexpr double kOpen = std::numeric_limits<double>::infinity();
    double from_low = -kOpen, from_high = kOpen, to_low = -kOpen, to_high = kOpen;  // decimal years
    std::string words;          // "was introduced in January 1939; was dropped in 1951"
    std::vector<int> cited;     // for the claims that bind it
    bool contradicted = false;  // some dates cannot hold together; the weakest were set aside
    bool any = false;
};
std::string solved_words(const SolvedRun& run);

struct RunRow {
    std::string key, kind, label;
    std::vector<RunEvent> events;  // by mark, then date
    // The run: possible from..to, certain between. Infinite where not known.
    double possible_from = 0, certain_from = 0, certain_to = 0, possible_to = 0;
    bool any = false;  // false: nothing is known; the row says so
    std::optional<SolvedRun> solved;
};

// How a thing is dated; nothing where the vocabulary has no time points for its kind.
using DatedOf = std::function<std::optional<DatingAnswer>(EntityId)>;
// By the vocabulary's time rules. Snapshot and weigher must outlive it.
DatedOf dated_by(const Snapshot& snapshot, Weigher& weigher, bool with_private);

struct RunChart {
    std::string title, description, made_from, left_out;
    std::vector<RunRow> rows;
    std::vector<Citation> citations;
    std::vector<std::string> cautions;
};

struct RunOptions {
    FigureOf figure;           // empty: no weights
    DatedOf dated;             // empty: only what the claims say
    double least_support = 0;  // claims below this are left out
    bool pieces = true;        // dated pieces of the thing too
    bool with_private = false;
    int about_years = 5;  // what "about" means: a convention of the profile
    CiteStyle cite;
    std::string made_from;
};

// Rows in the order of `things`. Cost: the claims of each thing and of its pieces.
RunChart run_chart(const Snapshot& snapshot, const std::vector<EntityId>& things, const RunOptions& options);

std::string to_svg(const RunChart& chart, const std::string& id_prefix = "s");

// The same as rows of a table: thing, modelled, introduced, dropped, pieces, citations. The first row is the heading.
std::vector<std::vector<std::string>> to_table(const RunChart& chart);

}  // namespace saggar::viz
