#include "queries/chain_time.h"

namespace saggar {

const std::optional<time::Span>& ClaimTimes::span(ClaimRef claim) {
    const auto known = known_.find(claim);
    if (known != known_.end()) return known->second;
    std::optional<time::Span> span;
    const std::optional<ClaimWithEvidence> row = snapshot_->claim(claim);
    if (row && !row->claim.when.empty()) {
        const time::Read<time::Span> read = time::read_span(row->claim.when, conventions_);
        if (read) span = *read;
    }
    return known_.emplace(claim, span).first->second;
}

bool ClaimTimes::may_hold(ClaimRef claim, const time::Span& period) {
    const std::optional<time::Span>& own = span(claim);
    return !own || time::overlap(*own, period);
}

ChainTime ClaimTimes::of_chain(const std::vector<ClaimRef>& claims, const std::optional<time::Span>& period) {
    ChainTime out;
    std::optional<ClaimRef> begins_last, ends_first;
    if (period) {
        out.common.earliest = period->earliest;
        out.common.latest = period->latest;
    }
    for (const ClaimRef claim : claims) {
        const std::optional<time::Span>& own = span(claim);
        if (!own) continue;
        out.bound = true;
        if (own->earliest > out.common.earliest) {
            out.common.earliest = own->earliest;
            begins_last = claim;
        }
        if (own->latest < out.common.latest) {
            out.common.latest = own->latest;
            ends_first = claim;
        }
    }
    out.possible = out.common.earliest <= out.common.latest;
    if (!out.possible) {
        // Against the period alone, one claim is at fault.
        const ClaimRef first = begins_last ? *begins_last : *ends_first;
        const ClaimRef second = ends_first ? *ends_first : *begins_last;
        out.clash = std::pair(first, second);
    }
    return out;
}

}  // namespace saggar
