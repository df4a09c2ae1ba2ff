// What a cell cites.
#include <algorithm>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"
#include "queries/cell.h"

namespace saggar {

namespace {

constexpr std::size_t most_premises = 200;  // read to be cited

}  // namespace

std::optional<Stance> counts_for(const EvidenceRow& row, const Profile& profile) {
    const double certainty = profile.certainty_of(row.certainty).value_or(.5);
    if (certainty == .5) return std::nullopt;
    const bool against = (row.stance == Stance::against || row.mention.has_value()) != (certainty < .5);
    return against ? Stance::against : Stance::in_favour;
}

void CellReader::add(std::vector<CellCitation>& into, EntityId source, const ContentId& record, bool is_list) {
    const double reliability = this->source(source).reliability;
    if (reliability <= 0) return;
    const auto known = std::find_if(into.begin(), into.end(), [source](const CellCitation& one) { return one.source == source; });
    if (known == into.end()) {
        into.push_back({source, record, is_list, reliability});
    } else if (known->is_list == is_list) {
        known->record = std::min(known->record, record);  // whichever was taken down first
    }
}

// The claims' own readings; on a side where they have none, those of what they are argued from. Nothing depends on the order of
// the claims or of their arguments.
void CellReader::cite_claims(Cell& cell, const std::vector<const ClaimWithEvidence*>& claims) {
    std::set<std::pair<ClaimRef, Stance>> seen;
    std::vector<std::pair<ClaimRef, Stance>> waiting;
    const auto read = [&](const ClaimWithEvidence& one, std::optional<Stance> premise_of) {
        for (const EvidenceRow& row : one.evidence) {
            const auto side = privacy_.may_show_of_shown(row) ? counts_for(row, weigher_.profile()) : std::nullopt;
            if (!side) continue;
            // A refuted premise stops its argument and refutes nothing.
            if (premise_of && *side == Stance::against) continue;
            add(premise_of.value_or(*side) == Stance::against ? cell.cited_against : cell.cited_for, row.source, row.id, false);
        }
    };
    const auto argue = [&](ClaimRef ref, std::optional<Stance> premise_of, std::optional<Stance> but_not) {
        if (!snapshot_.any_arguments()) return;
        for (const ArgumentRow& row : snapshot_.arguments_for(ref)) {
            if (row.strength <= 0 || (premise_of && row.stance == Stance::against) || !privacy_.may_show(row)) continue;
            const Stance side = premise_of.value_or(row.stance);
            if (but_not == side) continue;
            for (const ClaimRef premise : row.premises)
                if (seen.insert({premise, side}).second) waiting.emplace_back(premise, side);
        }
    };
    for (const ClaimWithEvidence* claim : claims) {
        for (const Stance side : {Stance::in_favour, Stance::against}) seen.insert({claim->claim.ref, side});
        read(*claim, std::nullopt);
    }
    const bool has_for = !cell.cited_for.empty(), has_against = !cell.cited_against.empty();
    const bool enough = cell.standing == Standing::never ? has_against : cell.counts() && has_for;
    if (enough || (has_for && has_against)) return;
    const std::optional<Stance> cited = has_for ? std::optional(Stance::in_favour) : has_against ? std::optional(Stance::against) : std::nullopt;
    for (const ClaimWithEvidence* claim : claims) argue(claim->claim.ref, std::nullopt, cited);
    for (std::size_t i = 0; i < waiting.size() && i < most_premises; ++i) {
        const std::pair<ClaimRef, Stance> one = waiting[i];
        const auto premise = snapshot_.claim(one.first);
        if (!premise || !privacy_.may_show(*premise)) continue;
        read(*premise, one.second);
        argue(one.first, one.second, std::nullopt);
    }
}

// Of an at-most-one relation: what speaks for another object.
void CellReader::cite_rivals(Cell& cell, const Claim& asked, const NamedThing& subject) {
    const Relation* relation = relation_of(asked.relation);
    if (!relation || !relation->at_most_one) return;
    for (const EntityId name : subject.names) {
        for (const ClaimWithEvidence& rival : snapshot_.claims_of(name, snapshot_.relation_id(asked.relation))) {
            const bool same = std::find(cell.claims.begin(), cell.claims.end(), rival.claim.ref) != cell.claims.end();
            if (same || !privacy_.may_show(rival) || weigher_.support_alone(rival.claim.ref) < least_mass) continue;
            for (const EvidenceRow& row : rival.evidence)
                if (privacy_.may_show_of_shown(row) && counts_for(row, weigher_.profile()) == Stance::in_favour)
                    add(cell.cited_against, row.source, row.id, false);
        }
    }
}

void CellReader::sort(std::vector<CellCitation>& citations) const {
    std::stable_sort(citations.begin(), citations.end(), [this](const CellCitation& a, const CellCitation& b) {
        return a.reliability != b.reliability ? a.reliability > b.reliability : snapshot_.key_of(a.source) < snapshot_.key_of(b.source);
    });
}

std::vector<CellCitation> CellReader::cited(ClaimRef ref, Stance stance) {
    const auto claim = snapshot_.claim(ref);
    if (!claim || !privacy_.may_show(*claim)) return {};
    Cell cell;
    cell.standing = stance == Stance::in_favour ? Standing::has : Standing::never;
    cite_claims(cell, {&*claim});
    auto& found = stance == Stance::in_favour ? cell.cited_for : cell.cited_against;
    sort(found);
    return std::move(found);
}

void CellReader::cite(Cell& cell, const Group& group, const NamedThing& subject) {
    cite_claims(cell, group.made);
    const bool refuted = group.masses ? group.masses->against_only + group.masses->both > least_mass : group.standing == Standing::never;
    ClaimRow row;
    row.scope = group.claim.scope;
    row.when = group.claim.when;
    for (const EntityId name : subject.names) {
        if (!refuted) break;
        for (const ListingRow& list : lists(name, group.claim.relation).shown) {
            if (!list_covers(list, row, weigher_.profile().about_years)) continue;
            const bool listed = std::any_of(cell.cited_for.begin(), cell.cited_for.end(),
                                            [&list](const CellCitation& one) { return one.source == list.source; });
            if (!listed) add(cell.cited_against, list.source, list.id, true);
        }
    }
    if (refuted && cell.cited_against.empty()) cite_rivals(cell, group.claim, subject);
    sort(cell.cited_for);
    sort(cell.cited_against);
}

}  // namespace saggar
