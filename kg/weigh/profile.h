// The weighing profile: every convention of the weighing in one versioned JSON document, stored with the graph.
//
// A grade says how far a reading of such a source is trusted and what it can never exceed; a type says which grade a
// kind of source gets when nothing else is said; hedge words, dependence within families, the words for likelihood and
// the budgets are there too. All of them are conventions: they are shown as such, with the profile's version, and a
// changed profile can be loaded and the same question asked again. The document:
//
//   {"profile": NAME, "version": TEXT, "remark": TEXT,
//    "grades":   {GRADE: {"label", "cap": 0..1, "reliability": 0..1, "remark"} or {"label", "no-basis": true}},
//    "types":    {TYPE: {"label", "grade": GRADE, "remark"}},        "unstated-type": GRADE,
//    "hedges":   {WORDS: 0..1},
//    "families": {KIND: {"label", "dependence": 0..1, "unknown": BOOL, "remark"}},  "unstated-family": KIND,
//    "within-source": 0..1, "indirect": 0..1, "about-years": 0..100,
//    "words":    {"scale": SCALE, "scales": {SCALE: {"source": TEXT, "bands": [{"from": 0..1, "words": TEXT}...]}}},
//    "contradiction": {"contested", "contradictory", "no-figure"},
//    "budget":   {"nodes", "nodes-on-request", "half-width", "worlds", "least-worlds"},
//    "supported": 0..1,
//    "identify": {"unknown": 0..1, "mistaken": 0..1, "shown": {RELATION: 0..1}, "shown-otherwise": 0..1}}
//
// The last two may be left out; the built-in document's stand for them.
//
// Caps and hedges: evidence.md names the conventions R1, R3, R5; the numbers of the built-in document are documented there.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kg/model/problem.h"

namespace saggar {

struct Grade {
    std::string name;
    std::string label;
    double cap = 1;
    std::optional<double> reliability;  // nothing: cannot be judged, so a reading is no basis at all
    std::string remark;
};

struct SourceType {
    std::string name;
    std::string label;
    std::string grade;
    std::string remark;
};

// How far sources of one family depend on each other: 0 not at all, 1 wholly.
struct FamilyKind {
    std::string name;
    std::string label;
    double dependence = 0;
    bool unknown = false;  // the number stands for "not known": the answer is a band
    std::string remark;
};

struct Hedge {
    std::string words;  // folded: lower case, single blanks
    double certainty = 0;
};

// What naming a piece from what is seen on it takes for granted (queries/identify.h).
struct Identifying {
    double unknown = .5;           // that a thing has a feature of which nothing is known
    double mistaken = .02;         // that a feature is seen on a piece of what never had it
    double shown_otherwise = .3;   // that a piece of what has a feature shows it, for relations not named
    std::vector<std::pair<std::string, double>> shown;  // by relation, sorted; these can be looked at on a piece
    double chance_shown(std::string_view relation) const;
};

struct WordBand {
    double from = 0;  // this and above; a boundary belongs to the higher band
    std::string words;
};

struct WordScale {
    std::string name;
    std::string source;
    std::vector<WordBand> bands;  // ascending, the first from 0
    // The words for a probability, 0..1.
    const std::string& words_for(double probability) const;
};

// A value; threads may share one.
class Profile {
public:
    // Reads a document. Nothing where an error was found; `file` is the name shown in problems.
    static std::optional<Profile> parse(std::string_view text, Problems& problems, std::string_view file = "profile");
    // The built-in profile.
    static const Profile& standard();

    std::string name;
    std::string version;
    std::string remark;
    std::vector<Grade> grades;          // these five are sorted by name
    std::vector<SourceType> types;
    std::vector<FamilyKind> families;
    std::vector<Hedge> hedges;
    std::vector<WordScale> scales;
    std::string unstated_type;          // the grade of a source of no type
    std::string unstated_family;        // the kind of a family whose kind is not said
    double within_source = .5;          // dependence of two readings of one source
    double indirect = .5;               // what an indirect reading is worth beside a direct one
    int about_years = 5;                // what "about" means
    std::string scale;                  // the scale in use
    double contested_from = .1;         // contradiction from here on: shown as contested
    double contradictory_from = .5;     // "the sources contradict each other", no single figure
    double no_figure_from = .9;         // no normalised figure at all
    double supported = .5;              // a claim counts as supported from here on, as denied at 1 - this possibility
    Identifying identifying;
    std::size_t nodes = 200'000;        // of a decision diagram
    std::size_t nodes_on_request = 1'000'000;
    double half_width = .01;            // of a sampled figure, at 95 %
    std::size_t most_worlds = 2'000'000;
    std::size_t least_worlds = 2'000;   // fewer worlds without contradiction: no normalised figure

    // "NAME version VERSION", as answers name it.
    std::string title() const;
    // The document as it was read.
    const std::string& document() const { return document_; }

    // Null where there is none.
    const Grade* find_grade(std::string_view grade_name) const;
    const SourceType* find_type(std::string_view type_name) const;
    const FamilyKind* find_family(std::string_view kind_name) const;
    const WordScale& words() const;

    // What an author's own certainty comes to, as a chance: a hedge of this profile in any case and spacing, or a
    // number 0..1. Nothing where it is neither. Empty text means a plain statement: 1.
    std::optional<double> certainty_of(std::string_view text) const;
    // The known name nearest to a mistyped one, for messages; nothing where none is near.
    std::optional<std::string> nearest_grade(std::string_view grade_name) const;
    std::optional<std::string> nearest_family(std::string_view kind_name) const;
    std::optional<std::string> nearest_hedge(std::string_view text) const;

private:
    friend class ProfileReader;
    std::string document_;
};

// Lower case (ASCII), blanks at the ends taken off, runs of blanks made one.
std::string folded_hedge(std::string_view text);

// A number 0..1 as people write it (".7", "0.70", "1", "70 %" is not one). Nothing where it is not one.
std::optional<double> read_chance(std::string_view text);

}  // namespace saggar
