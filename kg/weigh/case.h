// A question's case: every claim, reading, argument and source that can decide it, as plain values.
//
// The gatherer (gather.h) reads a case from a snapshot; CaseLineage (case_lineage.h) makes events of it. Everything in it
// is sorted by content and key, so that two graphs with the same content give the same case whatever the order of entry.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "kg/model/content_id.h"
#include "kg/store/ids.h"
#include "kg/weigh/source_terms.h"

namespace saggar {

using CaseIndex = std::uint32_t;  // into one of the vectors of a Case

// A reading of a source for or against a claim, a silence, or a list that leaves the claim out.
struct CaseReading {
    ContentId id;             // evidence or listing
    bool is_list = false;
    CaseIndex claim = 0;
    CaseIndex source = 0;
    bool against = false;     // as it counts: "probably not" turns it round
    double share = 1;         // of the source's reliability that it carries: hedge, indirectness, chance of mention;
                              // of a list: its completeness
    bool no_basis = false;
    bool takes_back = false;  // takes another reading back, so it is its source's own word even in a copy
    std::vector<CaseIndex> taken_back_by;  // later readings of the same author; also the corrections of corrections
};

struct CaseArgument {
    ContentId id;                     // empty: an identity at work
    bool against = false;
    double strength = 1;
    std::vector<CaseIndex> premises;  // claims
};

// An exclusive rival, and the identities that make it one.
struct CaseRival {
    CaseIndex claim = 0;
    std::vector<CaseIndex> identities;
};

struct CaseClaim {
    ClaimRef ref;
    ContentId id;
    // Only looked at for its readings; not part of the question, and its contradictions are not the question's.
    bool bystander = false;
    std::vector<CaseIndex> readings;
    std::vector<CaseArgument> arguments;
    std::vector<CaseRival> rivals;
};

// Sources that depend on each other.
struct CaseFamily {
    std::string name;
    double dependence = 0;
    bool unknown = false;           // no member says how they depend
    double most_reliable = 0;       // of all members in the graph that are not in this case
    std::vector<CaseIndex> sources; // members in this case
};

struct Case {
    std::vector<CaseClaim> claims;     // those asked about first
    std::vector<CaseReading> readings;
    std::vector<SourceTerms> sources;
    std::vector<CaseFamily> families;
    std::vector<CaseIndex> family_of;  // per source; no_family: none
    std::map<std::string, CaseIndex> source_of;  // by key

    static constexpr CaseIndex no_family = 0xFFFFFFFF;
};

}  // namespace saggar
