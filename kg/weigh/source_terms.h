// What the profile makes of a source: how far its readings are trusted, and what they share with others.
//
// R1: a source's reliability is the number given for it, else that of its grade, else that of its type's grade; never
// above the cap of its grade. R2: readings of one source depend on each other. R3: so do sources of one family.
#pragma once

#include <string>
#include <vector>

#include "kg/model/record.h"
#include "kg/store/ids.h"

namespace saggar {

class Profile;

struct CopyTerms {
    std::string of;  // key
    double chance = 1;
    double fidelity = 1;
};

struct SourceTerms {
    EntityId id;
    std::string key;
    std::string author;
    bool no_basis = false;      // cannot be judged: its readings say nothing
    double reliability = 0;     // of a plain direct reading, capped
    double cap = 1;
    double within = .5;         // dependence of two readings of this source
    bool within_stated = false;
    std::string family;         // empty: none, or stated to be independent
    double family_dependence = 0;
    bool family_unknown = false;
    std::string family_kind;
    int about_years = 0;
    std::vector<CopyTerms> copies;  // sorted by key
};

SourceTerms terms_of(const Source& source, EntityId id, const Profile& profile);

// A source that is only mentioned, never described.
SourceTerms terms_of_unknown_source(const std::string& key, EntityId id, const Profile& profile);

}  // namespace saggar
