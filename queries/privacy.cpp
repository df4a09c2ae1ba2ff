#include "queries/privacy.h"

#include <algorithm>

namespace saggar {

bool Privacy::may_show_key(std::string_view key) {
    if (with_private_ || key.empty()) return true;
    const auto thing = snapshot_->find(key);
    return !thing || may_show(*thing);
}

bool Privacy::may_show(const ClaimWithEvidence& claim) {
    if (with_private_) return true;
    if (marks_.is_marked(claim.claim)) return false;
    const bool open = std::any_of(claim.evidence.begin(), claim.evidence.end(),
                                  [this](const EvidenceRow& reading) { return !marks_.is_marked(reading); });
    return open || !marks_.is_hidden(claim.claim.ref);
}

bool Privacy::may_show(ClaimRef claim) {
    const auto row = snapshot_->claim(claim);
    return row && may_show(*row);
}

bool Privacy::may_show(const EvidenceRow& reading) {
    if (with_private_) return true;
    return !marks_.is_marked(reading) && (!reading.claim || !marks_.is_hidden(reading.claim));
}

Source Privacy::shown(Source source) {
    std::erase_if(source.copied_from, [this](const Copy& copy) { return !may_show_key(copy.of); });
    if (!may_show_key(source.family)) source.family.clear();
    return source;
}

}  // namespace saggar
