// Names a piece from what is seen on it: which candidates fit, how well, why, which are excluded, and what to look at next.
//
// Model, kept simple on purpose; its numbers are conventions of the profile ("identify", "supported"):
//   - Every candidate starts alike. No base rates: how common a thing is says nothing here.
//   - The evidence says how far a candidate has a feature (has), never had it (never), or leaves it open; the ways
//     in which it may have it (identify_ways.h) are weighed together, over the union of their lineages. What is open counts as
//     had with the chance `unknown`, for every candidate alike: silence is not evidence against.
//     h = has + unknown (1 - has - never)
//   - A piece of what has the feature shows it with the relation's chance `shown`, a piece of what has not with `mistaken`:
//     P(seen) = h shown + (1 - h) mistaken,   P(looked for and not there) = 1 - P(seen)
//   - What is seen is taken one by one, as if it were independent; the fit is the product, and fits sum to 1 over the candidates
//     that are not excluded.
// Excluded is a candidate only by evidence: never >= `supported`, hardly contradictory, of something seen; or where no day is
// left on which it could have been made (identify_dates.h).
// Next to look at is what has the largest expected information gain (information.h) between the likeliest candidates
// (identify_next.h). Cost: the ways of what is seen, one weighing for each; not the number of candidates.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "queries/cell.h"
#include "queries/identify_dates.h"
#include "queries/identify_ways.h"
#include "queries/sighting.h"

namespace saggar {

struct Identifying;

struct IdentifyQuestion {
    std::vector<Sighting> sightings;
    std::string kind;                        // of the candidates; empty: see identify_plan
    bool with_private = true;
    std::size_t most_candidates = 10'000;    // enumerated; those beyond are weighed only where something seen is claimed of them
    std::size_t most_ways = 2'000;           // of one thing seen
    std::size_t most_looks = 3;
};

// How far a candidate has something, and why.
struct Holding {
    double has = 0, never = 0;       // contradictions left aside
    double both = 0;                 // contradictory
    std::vector<ClaimRef> claims;    // the best way it may have it
    std::vector<ClaimRef> denied;    // the claims whose denial counts; of a list or a rival none
    std::vector<CellCitation> cited_for, cited_against;
    bool says_something() const { return has > 0 || never > 0 || both > 0; }
};

struct Candidate {
    NamedThing thing;
    double fit = 0;
    std::vector<Holding> holdings;  // beside the sightings
};

struct Excluded {
    EntityId thing;
    std::optional<std::size_t> sighting;  // which of them it never had; nothing: by dates
    Holding holding;                      // where by a sighting
    MadeWindow window;                    // where by dates
};

// A thing that candidates belong to, with their fits together.
struct BroaderFit {
    std::string kind;
    EntityId thing;
    double fit = 0;
};

struct NextLook {
    std::string relation;
    EntityId object;
    double gain = 0;        // expected, in bits
    double chance = 0;      // that it will be there
    std::vector<std::pair<EntityId, double>> if_there, if_not;  // the likeliest, with their fits then; at most three
};

struct IdentifyAnswer {
    std::string kind;
    std::vector<Candidate> candidates;  // best first, then by key
    std::vector<Excluded> excluded;     // by key
    std::vector<BroaderFit> broader;    // by kind, best first
    std::vector<NextLook> next;         // largest gain first
    std::size_t compared_next = 0;      // candidates between which the next look tells
    bool separates = false;             // false: nothing seen tells the candidates apart
    bool complete = true;               // false: not all candidates, or not all ways, were weighed
    bool times_clash = false;           // what was seen cannot all be of one time; dates exclude nobody then
    time::Day earliest = time::before_all, latest = time::after_all;  // of what was seen
    std::string profile;
};

// UsageFault where nothing is seen, or as identify_plan. The weigher must be of the same snapshot.
IdentifyAnswer identify(const Snapshot& snapshot, Weigher& weigher, const IdentifyQuestion& question);

// The chance that something is seen on a piece of what has it as `holding` says.
double chance_seen(const Holding& holding, const std::string& relation, const Identifying& conventions);

}  // namespace saggar
