// What is seen on a piece, as somebody says it: "has-feature feature:rope-handle", "treated-with H317", "made-in-year 1950".
//
// The first word is a relation, the rest its object: a key, the slug or the label of a thing of a kind that the relation takes,
// or a text or date where it takes one. Measures are not compared. What cannot be read is a problem with its place, the nearest known word and the next step.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/problem.h"
#include "kg/store/snapshot.h"
#include "queries/privacy.h"

namespace saggar {

struct Sighting {
    bool seen = true;      // false: looked for, and not there
    std::string relation;  // forwards
    EntityId object;       // none: a value
    Value value;           // text or date (EDTF)
    std::string label;     // of the object, for people
};

// `where` names the text in problems ("--seen"). Private things are not known unless they may be shown.
std::optional<Sighting> read_sighting(const Snapshot& snapshot, Privacy& privacy, std::string_view text, bool seen,
                                      const std::string& where, Problems& problems);

// Claims of the relation whose value reads so, letters folded, by the search index: at most `most`, those that may be shown.
std::vector<ClaimWithEvidence> claims_with_text(const Snapshot& snapshot, Privacy& privacy, const std::string& relation,
                                                const std::string& text, std::size_t most);

}  // namespace saggar
