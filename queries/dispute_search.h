// Finds claims that may be in conflict, by what the records say and without weighing anything.
//
//   two-sided   one claim, readings or arguments for it and against it
//   rivals      claims of one subject under an at-most-one relation, with different objects
//   dates       dated claims of one subject whose days cannot meet, or that break a time order (dispute_times.h)
//   list        a list of everything leaves out what somebody else has seen
//   identity    an identity that is denied, or claims that are rivals only because two names were taken for one thing
//   rulings     people have decided differently on one claim, and none has seen the other's ruling
//
// Claims that quarrel with each other, directly or through others, are one quarrel. Whether it comes to anything is for
// the weighing to say. Cost: one pass over all claims, or over the claims about one thing; claims that cannot quarrel
// are read and passed over.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "kg/store/snapshot.h"
#include "queries/dispute_times.h"

namespace saggar {

class Profile;

enum class DisputeKind : std::uint8_t { two_sided, rivals, dates, list, identity, rulings };
// "two-sided", "rivals", "dates", "list", "identity", "rulings".
std::string word_for(DisputeKind kind);
std::optional<DisputeKind> dispute_kind(std::string_view word);

struct Quarrel {
    std::vector<ClaimRef> claims;  // by content id
    std::set<DisputeKind> kinds;
    std::set<std::pair<ClaimRef, ClaimRef>> excluding;  // pairs that cannot both hold, both ways round
    std::vector<TimeClash> clashes;                     // of these claims with dates of other things
};

struct Quarrels {
    std::vector<Quarrel> found;  // in the order of their first claims' content ids
    bool times_compared = true;  // false: too many things are dated to compare their times one with another
};

// All quarrels, or those of `thing`: it is the subject, the object or the scope of a claim, or a source that speaks of
// one. UsageFault where the vocabulary's time rules are unsound.
Quarrels find_quarrels(const Snapshot& snapshot, const Profile& profile, std::optional<EntityId> thing = {});

}  // namespace saggar
