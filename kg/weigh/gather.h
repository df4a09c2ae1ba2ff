// Reads the case of a question from a snapshot: everything that can decide the claims asked about, and nothing else.
//
// From each claim it goes on to its rivals (same subject, at-most-one relation), to the premises of arguments for and
// against it, and through accepted identities to the same claim of the other name; for each reading it looks for later
// readings of the same author that take it back. Identity (R12): the claims by which two names are one enter the case.
// The walk goes by content ids and keys, so the case does not depend on the order of entry.
// Cost: a few reads for each claim met.
#pragma once

#include <optional>
#include <set>
#include <span>

#include "kg/model/record.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/case.h"
#include "kg/weigh/case_sources.h"
#include "kg/weigh/claim_buckets.h"

namespace saggar {

// What a question is asked without.
struct LeftOut {
    std::set<ContentId> records;  // evidence, lists and arguments
    std::set<EntityId> sources;   // all that was read in them

    bool has(const ContentId& record) const { return records.count(record) != 0; }
    bool has(const ContentId& record, EntityId source) const { return has(record) || sources.count(source) != 0; }
};

// Remembers sources, and some of the claims met, over many questions. One thread; keeps references to both.
class Gatherer {
public:
    Gatherer(const Snapshot& snapshot, const Profile& profile);

    // A claim that is not in force has no evidence.
    // `rivals` false: exclusive claims are not looked for.
    Case gather(std::span<const ClaimRef> asked, const LeftOut& without = {}, bool rivals = true);
    // The case of a claim that nobody has made, as if it stood in the graph with nothing read for it: lists that leave it
    // out, the same claim under other names, rivals. Nothing where the graph knows none of its words.
    std::optional<Case> gather_supposed(const Claim& supposed);

private:
    const Snapshot& snapshot_;
    const Profile& profile_;
    SourceBook sources_;
    Aliases aliases_;
    ClaimBuckets buckets_;
};

}  // namespace saggar
