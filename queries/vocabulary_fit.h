// Whether a graph fits another vocabulary: its things, claims and lists in force, each against what the vocabulary knows.
//
// What was withdrawn is not looked at: it speaks under the vocabulary of its time. Cost: one pass over the graph.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"
#include "queries/privacy.h"

namespace saggar {

// One thing that the vocabulary does not know, and how many records have it.
struct Misfit {
    std::string what;  // "unknown relation \"cast-by\""
    std::string next_step;
    std::uint64_t count = 0;
    std::vector<std::string> examples;  // keys, or claims as "subject relation object"; those that may be shown, at most 3
};

// Sorted by their words; empty: the graph fits.
std::vector<Misfit> misfits_of(const Snapshot& graph, const Vocabulary& next, Privacy& privacy);

// The names of the second vocabulary's kinds and relations that the first has not, sorted.
std::vector<std::string> kinds_missing(const Vocabulary& first, const Vocabulary& second);
std::vector<std::string> relations_missing(const Vocabulary& first, const Vocabulary& second);

}  // namespace saggar
