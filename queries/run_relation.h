// How two runs lie to each other in time, as far as the evidence says: which of Allen's thirteen relations are possible.
//
// The runs are those dating.h finds, with their uncertain ends; "certainly before" is said only where nothing else can be.
// Either run may rest on claims set aside, which its dating tells.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "kg/time/allen.h"
#include "queries/dating.h"

namespace saggar {

struct RunRelation {
    DatingAnswer a;
    DatingAnswer b;
    time::AllenSet possible;  // of a to b
    bool known = false;       // false: one of the two is not dated at all, and every relation is possible
};

// `question` sets everything but the thing. UsageFault as for date_thing, and where a kind has no run in the vocabulary.
RunRelation relate_runs(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules, EntityId a, EntityId b,
                        const DatingQuestion& question);

// "Lantern certainly before Halyard", "Lantern before, meets or overlaps Halyard".
std::string run_relation_words(const Snapshot& snapshot, const RunRelation& relation);

// {"a": {...}, "b": {...}, "possible": ["before", "meets"], "words": TEXT, "known": BOOL}; a and b: key and the four bounds.
nlohmann::json to_json(const RunRelation& relation, const Snapshot& snapshot);

}  // namespace saggar
