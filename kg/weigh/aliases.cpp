#include "kg/weigh/aliases.h"

#include <algorithm>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/store/ruling_order.h"
#include "kg/store/snapshot.h"

namespace saggar {

bool is_accepted(const Snapshot& snapshot, ClaimRef claim) {
    const auto rulings = ranked_rulings(snapshot.rulings(claim));
    return !rulings.empty() && rulings.front().row.decision == Ruling::Decision::accepted;
}

bool Aliases::is_identity(RelationId relation) const {
    return std::find(relations_.begin(), relations_.end(), relation) != relations_.end();
}

Aliases::Aliases(const Snapshot& snapshot) : snapshot_(snapshot) {
    for (const Relation& relation : snapshot.vocabulary().relations()) {
        if (!relation.identity) continue;
        const RelationId id = snapshot.relation_id(relation.name);
        if (!id) continue;
        relations_.push_back(id);
        identities_.add(id, true);
        identities_.add(id, false);
    }
}

std::vector<Aliases::Step> Aliases::accepted_steps(EntityId entity) const {
    std::vector<std::pair<ContentId, Step>> found;
    std::vector<Link> links;
    snapshot_.links(entity, identities_, links);
    for (const Link& link : links) {
        if (!is_accepted(snapshot_, link.claim)) continue;
        if (const auto claim = snapshot_.claim(link.claim)) found.push_back({claim->claim.id, {link.other, link.claim}});
    }
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Step> steps;
    for (const auto& one : found) steps.push_back(one.second);
    return steps;
}

const std::vector<Alias>& Aliases::of(EntityId entity) {
    const auto known = known_.find(entity);
    if (known != known_.end()) return known->second;
    std::vector<Alias> found;
    if (any()) {
        std::set<EntityId> seen{entity};
        found.push_back({entity, {}});
        for (std::size_t i = 0; i < found.size(); ++i) {  // breadth first; grows as it goes
            for (const Step& step : accepted_steps(found[i].other)) {
                if (!seen.insert(step.to).second) continue;
                std::vector<ClaimRef> way = found[i].identities;
                way.push_back(step.claim);
                found.push_back({step.to, std::move(way)});
            }
        }
        found.erase(found.begin());
        std::sort(found.begin(), found.end(),
                  [&](const Alias& a, const Alias& b) { return snapshot_.key_of(a.other) < snapshot_.key_of(b.other); });
    }
    return known_.emplace(entity, std::move(found)).first->second;
}

bool Aliases::are_one(EntityId a, EntityId b) {
    if (a == b) return true;
    const auto& names = of(a);
    return std::any_of(names.begin(), names.end(), [&](const Alias& alias) { return alias.other == b; });
}

}  // namespace saggar
