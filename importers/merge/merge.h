// Joining somebody else's graph to ours: nothing is lost, nothing is overwritten, and who said what is kept.
//
// Records are told apart by their content ids. Of each, both histories count how often it was put and withdrawn; the one
// that went further holds. That is a maximum, so merging is commutative, associative and idempotent in claims and
// evidence whatever the order (a state-based replicated set with counters: Shapiro, Preguica, Baquero, Zawirski 2011).
// Each of their entries that brings something becomes an entry here, by its author, with its verb, time and reason told;
// all entries are committed in one atomic step. Descriptions: descriptions.h. Other vocabularies: word_map.h.
// Cost: two passes over their history, one look-up a record; memory for the ids of their records.
#pragma once

#include <string>
#include <vector>

#include "importers/merge/descriptions.h"
#include "importers/merge/their_graph.h"
#include "importers/merge/word_map.h"
#include "kg/model/problem.h"
#include "kg/store/store.h"

namespace saggar {

struct MergeOptions {
    std::string author;  // who merges
    std::string time;    // now, ISO 8601, UTC
    bool with_private = false;
    bool dry_run = false;
    bool take_words = false;  // kinds and relations unknown here are added to the vocabulary
    WordChoice choice;
};

// A record that one side withdrew while it is in force on the other.
struct MergeWithdrawal {
    ContentId record;
    std::string reason;
};

// Two rulings on one claim that decide differently and stand side by side, since neither has seen the other.
struct MergeRulings {
    ContentId claim;
    ContentId ours;
    ContentId theirs;
};

struct MergeReport {
    Problems problems;             // any error: nothing was kept
    Entry::Counts counts;          // new here
    std::uint64_t first_entry = 0; // made here; 0: none
    std::uint64_t last_entry = 0;
    std::uint64_t their_records = 0, their_entries = 0;
    std::uint64_t known = 0;       // of their records: on record here already
    std::uint64_t left_out = 0;    // private there
    std::uint64_t recorded_too = 0;  // readings that both had taken down, each on his own
    std::uint64_t pictures = 0;      // copied from their folder
    std::uint64_t unknown_withdrawals = 0;  // of records that were never sent
    bool whole = true;             // false: a part of a history (`export --since`)
    std::vector<WordDifference> words;
    std::vector<std::string> words_taken;        // kinds and relations added to the vocabulary
    std::vector<FieldDifference> fields;
    std::vector<MergeWithdrawal> withdrawn;      // by them, now here too
    std::vector<ContentId> still_withdrawn;      // in force there, withdrawn here, and it stays so
    std::vector<MergeRulings> rulings;
};

// UsageFault, StoreFault, LimitFault. With problems that are errors, or dry_run, the graph stays as it was.
MergeReport merge(Store& store, TheirGraph& theirs, const MergeOptions& options);

}  // namespace saggar
