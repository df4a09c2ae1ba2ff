// Whether the graph is whole: every record reads, every index entry has its record and the other way round, ids equal
// their content, pictures equal their checksums, counters and history agree. One pass over everything.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "kg/store/store.h"

namespace saggar {

struct CheckReport {
    std::uint64_t entities = 0, sources = 0, claims = 0, evidence = 0, lists = 0, arguments = 0, rulings = 0,
                  entries = 0;
    std::vector<std::string> damage;       // empty: the graph is whole; at most 100 kept
    std::vector<std::string> undescribed;  // keys mentioned by claims that nobody has described, at most 100 kept
    std::uint64_t undescribed_count = 0;
    std::uint64_t pictures = 0;                 // different ones that sources name
    std::vector<std::string> missing_pictures;  // keys of sources whose picture is not in the media folder, at most 100 kept
    std::uint64_t claims_without_evidence = 0;  // in force, with no evidence, list or argument
};

// Without `with_private` no key of a private thing is told.
CheckReport check(const Store& store, bool with_private = true);

}  // namespace saggar
