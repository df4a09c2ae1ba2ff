#include "kg/weigh/claim_buckets.h"

#include <algorithm>

#include "kg/store/snapshot.h"

namespace saggar {

constexpr std::size_t most_held = 20'000;

void sort_evidence(const Snapshot& snapshot, ClaimWithEvidence& claim) {
    std::sort(claim.evidence.begin(), claim.evidence.end(), [&](const EvidenceRow& a, const EvidenceRow& b) {
        const int by_key = a.source == b.source ? 0 : snapshot.key_of(a.source).compare(snapshot.key_of(b.source));
        return by_key != 0 ? by_key < 0 : a.id < b.id;
    });
}

const std::vector<ClaimWithEvidence>& ClaimBuckets::of(EntityId subject, RelationId relation) {
    const auto [at, is_new] = buckets_.try_emplace({subject, relation});
    Bucket& bucket = at->second;
    if (!is_new) return bucket.claims;
    bucket.claims = snapshot_.claims_of(subject, relation);
    std::sort(bucket.claims.begin(), bucket.claims.end(),
              [](const ClaimWithEvidence& a, const ClaimWithEvidence& b) { return a.claim.id < b.claim.id; });
    for (std::size_t i = 0; i < bucket.claims.size(); ++i) {
        sort_evidence(snapshot_, bucket.claims[i]);
        bucket.place.emplace(bucket.claims[i].claim.ref, i);
    }
    held_ += 1 + bucket.claims.size();
    return bucket.claims;
}

const ClaimWithEvidence* ClaimBuckets::find(ClaimRef claim) const {
    const auto bucket = buckets_.find({claim.subject, claim.relation});
    if (bucket == buckets_.end()) return nullptr;
    const auto at = bucket->second.place.find(claim);
    return at == bucket->second.place.end() ? nullptr : &bucket->second.claims[at->second];
}

void ClaimBuckets::trim() {
    if (held_ <= most_held) return;
    buckets_.clear();
    held_ = 0;
}

}  // namespace saggar
