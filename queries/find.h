// Finding things by words: labels, other names, titles, remarks, quotes and text values.
//
// All words must occur in one thing (a claim's words count for its subject). Words are folded ("sevres" finds
// "Sèvres"); a word also matches the words it begins, with less weight, and where it matches nothing: its two halves ("a123"
// for "A.123", "artdeco" for "Art-Déco"), else words at a small edit distance (one sign up to five letters, two beyond; a
// swap of neighbours is one: Damerau 1964), with less again. Words of one or two letters and with digits are not
// guessed at: pattern numbers and years that differ by a digit are others. Where all words together find nothing, neighbours
// are tried as one word ("A 123" for "A123"). Cost: the postings of the query words, and reading the texts of the best; of no
// more than 20 000 candidates all texts are read, so that they can be counted.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "kg/store/snapshot.h"

namespace saggar {

struct FindHit {
    EntityId entity;
    double score = 0;     // higher is better; only its order means something
    std::string field;    // where the best match stands: "label", "also", "title", "remark", "quote", "text"
    std::string snippet;  // the text it stands in
    ClaimRef claim;       // set where the text belongs to a claim
};

struct FindOptions {
    std::string kind;    // only entities of this kind; empty: all
    std::string source;  // only words of evidence from this source; empty: all
    std::size_t most = 20;
    bool with_private = true;
};

struct FindAnswer {
    std::vector<FindHit> hits;       // best first, then by key
    std::size_t found = 0;           // before the limit; with more_unread, those seen so far
    bool more_unread = false;        // so many candidates that only the best were looked at; equals are taken by age
    std::vector<std::string> taken;  // "lantren read as lantern": words that were found only at a distance
};

FindAnswer find(const Snapshot& snapshot, std::string_view words, const FindOptions& options = {});

}  // namespace saggar
