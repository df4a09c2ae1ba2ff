// When the claims of a chain hold, and whether they can hold together.
//
// A claim may carry the time for which it is claimed to hold (EDTF). Each such time has an outermost span; a chain is
// possible in time when one day lies in all of them. Spans on a line that meet pairwise meet all together (Helly 1923),
// so an impossible chain always has two claims whose times do not meet: the one that begins last and the one that ends
// first. Claims without a time, or with one that cannot be read, do not bind.
// "About" widens by the tolerance given; a claim's time is a claim too, so the verdict is about the record, not the world.
#pragma once

#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "kg/store/snapshot.h"
#include "kg/time/span.h"

namespace saggar {

struct ChainTime {
    bool possible = true;
    // In all claims at once, where possible; no limit on a side where nothing binds it.
    time::Span common;
    bool bound = false;  // whether any claim carries a time
    // Where impossible: the claim that begins last and the one that ends first.
    std::optional<std::pair<ClaimRef, ClaimRef>> clash;
};

// Reads each claim's time once. One thread; the snapshot must outlive it.
class ClaimTimes {
public:
    ClaimTimes(const Snapshot& snapshot, time::Conventions conventions)
        : snapshot_(&snapshot), conventions_(conventions) {}

    // Nothing where the claim carries no readable time.
    const std::optional<time::Span>& span(ClaimRef claim);
    // Whether the claim may hold at some day of `period`.
    bool may_hold(ClaimRef claim, const time::Span& period);
    // `period`: a further span that must be met; the clash then names one claim twice.
    ChainTime of_chain(const std::vector<ClaimRef>& claims, const std::optional<time::Span>& period);

private:
    const Snapshot* snapshot_;
    time::Conventions conventions_;
    std::unordered_map<ClaimRef, std::optional<time::Span>> known_;
};

}  // namespace saggar
