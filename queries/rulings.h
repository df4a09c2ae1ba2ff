// Rulings on claims, and whether they still stand.
//
// A ruling names the evidence, lists and arguments it looked at, and the rulings that it overrules. It is stale when its claim's
// lineage holds a record that it did not see, or when one it relied on has been withdrawn. It never alters a weight. Which of
// several stand is said in kg/store/ruling_order.h; the others stay on record. Cost: one gathering of the claim's lineage.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/weigh/gather.h"

namespace saggar {

class Privacy;

// A record that a ruling looked at and that is in force no longer.
struct Gone {
    ContentId record;
    std::uint64_t entry = 0;  // in which it was withdrawn
    std::string reason;
};

struct RulingStanding {
    RulingRow ruling;
    bool superseded = false;          // overruled by another that is in force
    std::vector<ContentId> unseen;    // in the lineage, not looked at; sorted
    std::vector<Gone> gone;           // sorted by record
    bool stale() const { return !unseen.empty() || !gone.empty(); }
};

// The rulings in force on a claim: those that stand first, the latest of them leading.
std::vector<RulingStanding> standing_of(const Snapshot& snapshot, Gatherer& gatherer, ClaimRef claim);

// What a ruling on the claim has to look at: everything in its lineage. Sorted.
std::vector<ContentId> to_look_at(Gatherer& gatherer, ClaimRef claim);

// Whether two that stand decide differently.
bool disagree(const std::vector<RulingStanding>& rulings);

// The rulings in force on the claim: what a new one overrules. Without private ones, unless the new one is private itself.
std::vector<ContentId> rulings_seen(const Snapshot& snapshot, ClaimRef claim, bool with_private);

// "accepted", "rejected", "left open".
std::string word_for(Ruling::Decision decision);

// Evidence, a list or an argument in force in a few words: "for: Memo of 3 May, p. 2: …", "the list of …". Empty where it
// is not in force.
std::string record_words(const Snapshot& snapshot, Privacy& privacy, const ContentId& record);

}  // namespace saggar
