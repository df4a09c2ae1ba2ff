#include "queries/identify_holding.h"

#include <algorithm>

#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"

namespace saggar {

namespace {

constexpr std::size_t most_joined = 12;  // ways weighed together; the best supported

}  // namespace

HoldingReader::HoldingReader(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, Aliases& aliases)
    : snapshot_(snapshot), weigher_(weigher), privacy_(privacy), cells_(snapshot, weigher, privacy, aliases, weigher.profile().supported, true) {}

bool HoldingReader::may_be_ruled_out(const std::vector<const Relation*>& direct) {
    return snapshot_.any_listings() ||
           std::any_of(direct.begin(), direct.end(), [](const Relation* relation) { return relation->at_most_one; });
}

double HoldingReader::product(const Chain& chain, std::size_t end) {
    double support = 1;
    for (std::size_t i = 0; i < end; ++i) support *= weigher_.support(chain[i]);
    return support;
}

bool HoldingReader::is_plain(ClaimRef ref) {
    const auto claim = snapshot_.claim(ref);
    return claim && claim->claim.scope.empty() && claim->claim.when.empty();
}

// Against what other claims say; both sides at once are left aside, as the weighing does.
void HoldingReader::deny(Holding& holding, double never, double both, const std::vector<ClaimRef>& claims) {
    if (never <= least_mass) return;
    const double clash = holding.has * never;
    if (clash >= 1) {
        holding.has = holding.never = 0;
        holding.both = 1;
        return;
    }
    const double has = holding.has * (1 - never) / (1 - clash);
    holding.never = never * (1 - holding.has) / (1 - clash);
    holding.has = has;
    holding.both = std::max({holding.both, both, clash});
    holding.denied = claims;
}

void HoldingReader::add_ways(Holding& holding, const std::vector<Way>& ways) {
    struct Ranked {
        double support = 0;
        const Way* way = nullptr;
    };
    std::vector<Ranked> ranked;
    for (const Way& way : ways) ranked.push_back({product(way.chain, way.chain.size()), &way});
    std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
        if (a.support != b.support) return a.support > b.support;
        return a.way->chain.size() < b.way->chain.size();
    });
    if (!ranked.empty() && ranked.front().way->chain.empty()) {  // it is the thing itself
        holding.has = 1;
        return;
    }
    std::vector<Chain> chains;
    for (const Ranked& one : ranked)
        if (one.support > least_mass && chains.size() < most_joined) chains.push_back(one.way->chain);
    if (chains.size() == 1 && chains.front().size() == 1) {
        const Masses masses = weigher_.masses(chains.front().front());
        holding.has = masses.support().value_or(0);
        holding.both = masses.both;
    } else if (!chains.empty()) {
        WeighOptions options;
        options.explain = false;
        const JointWeight joint = weigher_.joint(chains, options);
        holding.has = joint.normalised ? joint.conditioned : joint.raw;
    }
    if (!chains.empty()) holding.claims = chains.front();
    // A denial of the last claim counts as far as the way to it holds. Of one for a buyer or a year nothing follows.
    double never = 0, both = 0;
    std::vector<ClaimRef> denied;
    bool same_claim = false;
    for (const Ranked& one : ranked) {
        if (!one.way->denies || !is_plain(one.way->chain.back())) continue;
        const Masses masses = weigher_.masses(one.way->chain.back());
        const double its = product(one.way->chain, one.way->chain.size() - 1) * (1 - masses.possibility().value_or(1));
        if (its <= never) continue;
        never = its;
        both = masses.both;
        denied = {one.way->chain.back()};
        same_claim = chains.size() == 1 && chains.front() == one.way->chain;
    }
    if (same_claim && chains.front().size() == 1) {  // one claim's own two sides: weighed already
        holding.never = never;
        holding.denied = denied;
    } else {
        deny(holding, never, both, denied);
    }
}

// Nobody claims it of the candidate: a list that leaves it out, or another one that it has, may still speak.
void HoldingReader::add_unclaimed(Holding& holding, const NamedThing& candidate, const Sighting& sighting,
                                  const std::vector<const Relation*>& direct) {
    for (const Relation* relation : direct) {
        const RelationId id = snapshot_.relation_id(relation->name);
        if (!id) continue;
        const auto claims = relation->at_most_one ? snapshot_.claims_of(candidate.id, id) : std::vector<ClaimWithEvidence>{};
        const bool has_other = std::any_of(claims.begin(), claims.end(), [this](const ClaimWithEvidence& one) { return privacy_.may_show(one); });
        bool listed = false;
        if (snapshot_.any_listings())
            for (const ListingRow& list : snapshot_.listings(candidate.id, id)) listed = listed || privacy_.may_show(list);
        if (!has_other && !listed) continue;
        if (!listed && claims.size() == 1 && candidate.names.size() == 1) {  // one rival, and nothing else: what speaks for it speaks against this
            deny(holding, cells_.masses_of(claims.front()).support().value_or(0), 0, {});
            const auto cited = cells_.cited(claims.front().claim.ref, Stance::in_favour);
            holding.cited_against.insert(holding.cited_against.end(), cited.begin(), cited.end());
            continue;
        }
        Claim asked{snapshot_.key_of(candidate.id), relation->name, sighting.value, "", "", false};
        if (sighting.object) asked.object = {Value::Type::entity, snapshot_.key_of(sighting.object), ""};
        const Cell cell = cells_.read(asked, {}, candidate);
        if (!cell.masses) continue;
        deny(holding, 1 - cell.masses->possibility().value_or(1), 0, {});
        holding.cited_against.insert(holding.cited_against.end(), cell.cited_against.begin(), cell.cited_against.end());
    }
}

Holding HoldingReader::read(const NamedThing& candidate, const Sighting& sighting, const std::vector<const Relation*>& direct,
                            const std::vector<Way>& ways) {
    Holding holding;
    add_ways(holding, ways);
    const bool claimed_itself = std::any_of(ways.begin(), ways.end(), [](const Way& way) { return way.denies && way.chain.size() <= 1; });
    if (!claimed_itself) add_unclaimed(holding, candidate, sighting, direct);
    for (const ClaimRef claim : holding.claims)
        for (CellCitation& one : cells_.cited(claim, Stance::in_favour)) {
            const bool known = std::any_of(holding.cited_for.begin(), holding.cited_for.end(), [&one](const CellCitation& other) { return other.source == one.source; });
            if (!known) holding.cited_for.push_back(one);
        }
    for (const ClaimRef claim : holding.denied)
        for (CellCitation& one : cells_.cited(claim, Stance::against)) holding.cited_against.push_back(one);
    return holding;
}

std::optional<EntityId> HoldingReader::belongs_to(const NamedThing& candidate, const Relation& relation) {
    const RelationId id = snapshot_.relation_id(relation.name);
    if (!id) return std::nullopt;
    std::vector<ClaimWithEvidence> claims;
    for (const EntityId name : candidate.names) {
        for (ClaimWithEvidence& claim : snapshot_.claims_of(name, id)) {
            if (!claim.claim.has_entity_object() || !privacy_.may_show(claim) || !privacy_.may_show(claim.claim.object)) continue;
            claims.push_back(std::move(claim));
        }
    }
    std::optional<EntityId> best;
    double most = .5;
    for (const ClaimWithEvidence& claim : claims) {
        const bool undisputed = claims.size() == 1 && !claim.evidence.empty() &&
                                std::all_of(claim.evidence.begin(), claim.evidence.end(), [](const EvidenceRow& row) { return row.stance == Stance::in_favour; });
        const double support = undisputed ? 1 : weigher_.support(claim.claim.ref);
        if (support < most) continue;
        most = support;
        best = claim.claim.object;
    }
    return best;
}

}  // namespace saggar
