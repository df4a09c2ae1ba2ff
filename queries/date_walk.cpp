#include "queries/date_walk.h"

#include <algorithm>


namespace saggar {

bool DateWalker::is_spoken_for(const ClaimWithEvidence& claim) const {
    if (!privacy_.may_show(claim)) return false;
    const bool read = std::any_of(claim.evidence.begin(), claim.evidence.end(), [&](const EvidenceRow& row) {
        return row.stance == Stance::in_favour && !row.mention && privacy_.may_show_of_shown(row);
    });
    if (read) return true;
    if (!snapshot_->any_arguments()) return false;
    const auto arguments = snapshot_->arguments_for(claim.claim.ref);
    return std::any_of(arguments.begin(), arguments.end(), [&](const ArgumentRow& row) {
        return row.stance == Stance::in_favour && privacy_.may_show(row) &&
               std::all_of(row.premises.begin(), row.premises.end(), [this](ClaimRef premise) { return snapshot_->claim(premise).has_value(); });
    });
}

const std::vector<ClaimWithEvidence>& DateWalker::claims_of(EntityId thing) {
    const auto known = known_.find(thing);
    if (known != known_.end()) return known->second;
    std::vector<ClaimWithEvidence> claims = snapshot_->claims_of(thing);
    claims.erase(
        std::remove_if(claims.begin(), claims.end(), [this](const auto& claim) { return !is_spoken_for(claim); }),
        claims.end());
    return known_.emplace(thing, std::move(claims)).first->second;
}

void DateWalker::step(const DateWalk& walk, const TimePathStep& step, std::vector<DateWalk>& out) {
    const RelationId relation = snapshot_->relation_id(step.relation);
    if (!relation) return;
    const auto go = [&](ClaimRef claim, EntityId to) {
        DateWalk next{to, walk.claims};
        next.claims.push_back(claim);
        out.push_back(std::move(next));
    };
    if (!step.backwards) {
        for (const ClaimWithEvidence& claim : claims_of(walk.to)) {
            if (claim.claim.ref.relation == relation && claim.claim.has_entity_object())
                go(claim.claim.ref, claim.claim.object);
        }
        return;
    }
    for (const ClaimRef ref : snapshot_->claims_about(walk.to)) {
        if (ref.relation != relation) continue;
        const auto& claims = claims_of(ref.subject);
        const bool counts =
            std::any_of(claims.begin(), claims.end(), [&](const auto& claim) { return claim.claim.ref == ref; });
        if (counts) go(ref, ref.subject);
    }
}

const std::vector<Alias>& DateWalker::other_names(EntityId thing) {
    const auto known = names_.find(thing);
    if (known != names_.end()) return known->second;
    std::vector<Alias> names;
    if (aliases_.any()) {
        for (const Alias& name : aliases_.of(thing)) {
            const bool shown = std::all_of(name.identities.begin(), name.identities.end(), [this](ClaimRef ref) {
                const auto claim = snapshot_->claim(ref);
                return claim && is_spoken_for(*claim);
            });
            if (shown) names.push_back(name);
        }
    }
    return names_.emplace(thing, std::move(names)).first->second;
}

std::vector<DateWalk> DateWalker::under_all_names(const DateWalk& walk) {
    std::vector<DateWalk> all{walk};
    for (const Alias& name : other_names(walk.to)) {
        all.push_back({name.other, walk.claims});
        all.back().claims.insert(all.back().claims.end(), name.identities.begin(), name.identities.end());
    }
    return all;
}

std::vector<DateWalk> DateWalker::walk(EntityId from, const TimePath& path) {
    std::vector<DateWalk> ends{{from, {}}};
    for (std::size_t i = 0; i < path.size(); ++i) {
        std::vector<DateWalk> next;
        for (const DateWalk& end : ends) {
            if (i == 0) {
                step(end, path[i], next);
                continue;
            }
            for (const DateWalk& name : under_all_names(end)) step(name, path[i], next);
        }
        ends = std::move(next);
    }
    if (!path.empty()) {
        ends.erase(std::remove_if(ends.begin(), ends.end(), [&](const DateWalk& end) { return end.to == from; }),
                   ends.end());
    }
    return ends;
}

std::vector<std::vector<ClaimRef>> DateWalker::drawn_by_rules(ClaimRef ref) const {
    const auto claim = snapshot_->claim(ref);
    if (!claim) return {};
    const auto speaks_for = [](const EvidenceRow& row) { return row.stance == Stance::in_favour && !row.mention; };
    if (std::any_of(claim->evidence.begin(), claim->evidence.end(), speaks_for)) return {};
    std::vector<std::vector<ClaimRef>> ways;
    for (const ArgumentRow& row : snapshot_->arguments_for(ref)) {
        if (row.stance != Stance::in_favour) continue;
        if (row.rule.empty()) return {};
        ways.push_back(row.premises);
    }
    return ways;
}

TimePath DateWalker::reversed(const TimePath& path) {
    TimePath turned(path.rbegin(), path.rend());
    for (TimePathStep& one : turned) one.backwards = !one.backwards;
    return turned;
}

}  // namespace saggar
