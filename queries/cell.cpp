#include "queries/cell.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/source_terms.h"
#include "queries/rulings.h"
#include "queries/statement.h"

namespace saggar {

std::string word_for(Standing standing) {
    switch (standing) {
        case Standing::has: return "has";
        case Standing::limited: return "limited";
        case Standing::never: return "never";
        case Standing::disputed: return "disputed";
        case Standing::weak: return "weak";
        case Standing::unknown: return "unknown";
    }
    return "";
}

Standing standing_of_masses(const Masses& masses, const Profile& profile, double supported) {
    if (masses.for_only < least_mass && masses.against_only < least_mass && masses.both < least_mass) return Standing::unknown;
    if (masses.both >= profile.contested_from) return Standing::disputed;
    if (masses.support().value_or(0) >= supported) return Standing::has;
    if (masses.possibility().value_or(1) <= 1 - supported) return Standing::never;
    return Standing::weak;
}

CellReader::CellReader(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, Aliases& aliases, double supported, bool figures)
    : snapshot_(snapshot), weigher_(weigher), privacy_(privacy), supported_(supported), figures_(figures), aliases_(aliases) {}

const Relation* CellReader::relation_of(const std::string& name) const { return snapshot_.vocabulary().find_relation(name); }

bool CellReader::has_other_names(EntityId thing) { return aliases_.any() && !aliases_.of(thing).empty(); }

const CellReader::Lists& CellReader::lists(EntityId subject, const std::string& relation) {
    const auto known = lists_.find({subject, relation});
    if (known != lists_.end()) return known->second;
    Lists found;
    if (snapshot_.any_listings()) {
        for (ListingRow& row : snapshot_.listings(subject, snapshot_.relation_id(relation))) {
            if (privacy_.may_show(row)) {
                found.shown.push_back(std::move(row));
            } else {
                found.hidden = true;
            }
        }
    }
    return lists_[{subject, relation}] = std::move(found);
}

// Whether something that may be shown can speak of a claim that nobody has made.
bool CellReader::may_be_ruled_out(const Claim& asked, const NamedThing& subject) {
    const Relation* relation = relation_of(asked.relation);
    for (const EntityId name : subject.names) {
        if (!lists(name, asked.relation).shown.empty()) return true;
        if (!relation || !relation->at_most_one) continue;
        for (const ClaimWithEvidence& rival : snapshot_.claims_of(name, snapshot_.relation_id(asked.relation)))
            if (privacy_.may_show(rival)) return true;
    }
    return false;
}

const CellReader::SourceKnown& CellReader::source(EntityId id) {
    const auto [at, is_new] = sources_.try_emplace(id);
    if (!is_new) return at->second;
    const auto record = snapshot_.source(id);
    const SourceTerms terms = record ? terms_of(*record, id, weigher_.profile())
                                     : terms_of_unknown_source(snapshot_.key_of(id), id, weigher_.profile());
    at->second = {terms.no_basis ? 0 : terms.reliability, !terms.copies.empty()};
    return at->second;
}

// Of the source's reliability that the reading carries, as the weighing has it.
double CellReader::share_of(const EvidenceRow& row) {
    const double certainty = weigher_.profile().certainty_of(row.certainty).value_or(.5);
    return std::abs(2 * certainty - 1) * (row.reading == "indirect" ? weigher_.profile().indirect : 1) * row.mention.value_or(1);
}

std::optional<Standing> CellReader::decided_by_one(const Group& group, const NamedThing& subject) {
    const Relation* relation = relation_of(group.claim.relation);
    if (!relation || relation->at_most_one || relation->symmetric || group.made.size() > 1 || subject.names.size() > 1) return std::nullopt;
    if (has_other_names(subject.id)) return std::nullopt;
    if (group.claim.object.type == Value::Type::entity && has_other_names(object_of(group))) return std::nullopt;
    std::optional<Stance> side;
    double best = 0;
    ClaimRow row;  // what a list covers it by
    row.scope = group.claim.scope;
    row.when = group.claim.when;
    const auto take = [&](Stance its, double weight) {
        if (side && *side != its) return false;
        side = its;
        best = std::max(best, weight);
        return true;
    };
    if (!group.made.empty()) {
        const ClaimWithEvidence& made = *group.made.front();
        if (made.claim.ref.subject != subject.id) return std::nullopt;
        for (const EvidenceRow& one : made.evidence) {
            const auto its = counts_for(one, weigher_.profile());
            const SourceKnown& from = source(one.source);
            if (!its || from.reliability <= 0) continue;
            const double weight = from.is_copy ? 0 : from.reliability * share_of(one);
            const bool helps = best < supported_ && weight >= supported_ &&
                               (!snapshot_.any_corrections() || snapshot_.corrections_of(one.id).empty());
            if (!take(*its, helps ? weight : 0)) return std::nullopt;
        }
        if (best < supported_) return std::nullopt;
        if (snapshot_.any_arguments())
            for (const ArgumentRow& argument : snapshot_.arguments_for(made.claim.ref))
                if (!take(argument.stance, 0)) return std::nullopt;
    }
    const Lists& all = lists(subject.id, group.claim.relation);
    if (all.hidden) return std::nullopt;
    for (const ListingRow& list : all.shown) {
        if (!list_covers(list, row, weigher_.profile().about_years)) continue;
        const bool listed = !group.made.empty() && std::any_of(group.made.front()->evidence.begin(), group.made.front()->evidence.end(),
                                                               [&list](const EvidenceRow& one) {
                                                                   return one.source == list.source && one.stance == Stance::in_favour && !one.mention;
                                                               });
        const SourceKnown& from = source(list.source);
        if (listed || from.reliability <= 0) continue;
        if (!take(Stance::against, from.is_copy ? 0 : from.reliability * list.completeness)) return std::nullopt;
    }
    if (!side || best < supported_) return std::nullopt;
    return *side == Stance::in_favour ? Standing::has : Standing::never;
}

// The entity a claim is about; looked up once for a row of cells.
EntityId CellReader::object_of(const Group& group) {
    if (!group.made.empty()) return group.made.front()->claim.object;
    if (object_key_ != group.claim.object.text) {
        object_key_ = group.claim.object.text;
        object_ = snapshot_.find(object_key_).value_or(EntityId{});
    }
    return object_;
}

// Whether the one claim made is the one asked about, and not the same under another name.
bool CellReader::stands_itself(const Group& group, const NamedThing& subject) {
    if (group.made.size() != 1) return false;
    const ClaimRow& made = group.made.front()->claim;
    return made.ref.subject == subject.id && (!made.has_entity_object() || snapshot_.key_of(made.object) == group.claim.object.text);
}

std::optional<Masses> CellReader::from_readings(const ClaimWithEvidence& claim, bool estimate) {
    const ClaimRef ref = claim.claim.ref;
    const std::string& name = snapshot_.relation_name(ref.relation);
    const Relation* relation = relation_of(name);
    if (!relation || relation->symmetric || has_other_names(ref.subject)) return std::nullopt;
    if (claim.claim.has_entity_object() && has_other_names(claim.claim.object)) return std::nullopt;
    const Lists& all = lists(ref.subject, name);
    if (all.hidden || !all.shown.empty()) return std::nullopt;
    std::optional<Stance> side;
    double best = 0;
    std::size_t count = 0;
    for (const EvidenceRow& row : claim.evidence) {
        const auto its = counts_for(row, weigher_.profile());
        const SourceKnown& from = source(row.source);
        if (!its || from.reliability <= 0) continue;
        if (from.is_copy || (side && *side != *its) || (!estimate && ++count > 1)) return std::nullopt;
        if (snapshot_.any_corrections() && !snapshot_.corrections_of(row.id).empty()) return std::nullopt;
        side = its;
        best = std::max(best, from.reliability * share_of(row));
    }
    if (!side) return std::nullopt;
    if (snapshot_.any_arguments())
        for (const ArgumentRow& argument : snapshot_.arguments_for(ref))
            if (!estimate || argument.stance != *side) return std::nullopt;
    if (relation->at_most_one && snapshot_.claims_of(ref.subject, ref.relation).size() != 1) return std::nullopt;
    Masses masses;
    (*side == Stance::in_favour ? masses.for_only : masses.against_only) = best;
    masses.neither = 1 - best;
    return masses;
}

Masses CellReader::masses_of(const ClaimWithEvidence& claim) {
    const auto read = from_readings(claim, false);
    return read ? *read : weigher_.masses(claim.claim.ref);
}

Masses CellReader::estimate_of(const ClaimWithEvidence& claim) {
    const auto read = from_readings(claim, true);
    return read ? *read : weigher_.masses(claim.claim.ref);
}

void CellReader::weigh(Group& group, const NamedThing& subject) {
    const auto decided = decided_by_one(group, subject);
    if (decided) group.standing = *decided;
    if (decided && !figures_) return;
    group.masses = stands_itself(group, subject) ? weigher_.masses(group.made.front()->claim.ref) : weigher_.masses_if_claimed(group.claim);
    if (decided) return;
    group.standing = standing_of_masses(*group.masses, weigher_.profile(), supported_);
    // What nobody has claimed is not in dispute: the contradiction is between its rivals.
    if (group.made.empty() && group.standing == Standing::disputed && group.masses->for_only < least_mass)
        group.standing = group.masses->possibility().value_or(1) <= 1 - supported_ ? Standing::never : Standing::weak;
}

Cell CellReader::read(const Claim& asked, const std::vector<ClaimWithEvidence>& claims, const NamedThing& subject) {
    Cell cell;
    std::map<std::pair<std::string, std::string>, Group> groups;
    for (const ClaimWithEvidence& one : claims) {
        if (!privacy_.may_show(one)) {
            cell.has_hidden = true;
            continue;
        }
        Group& group = groups[{one.claim.scope, one.claim.when}];
        group.claim = asked;
        group.claim.scope = one.claim.scope;
        group.claim.when = one.claim.when;
        group.made.push_back(&one);
        cell.claims.push_back(one.claim.ref);  // the map is read in order below, this one by the store
    }
    // Where the claim itself is private, what else is said would be weighed with it.
    if (groups.find({"", ""}) == groups.end() && !cell.has_hidden && may_be_ruled_out(asked, subject)) groups[{"", ""}].claim = asked;
    const Group* plain = nullptr;
    const Group* limited = nullptr;  // supported with its limit; the most supported
    const Group* other = nullptr;
    for (auto& [limits, group] : groups) {
        weigh(group, subject);
        const bool supported = group.standing == Standing::has;
        if (limits.first.empty() && limits.second.empty()) {
            plain = &group;
        } else if (supported) {
            if (!limited || group.support() > limited->support()) limited = &group;
        } else if (group.standing == Standing::disputed || group.standing == Standing::weak) {
            if (!other || group.standing < other->standing) other = &group;
        }
    }
    const Group* decides = plain && plain->standing != Standing::unknown ? plain : nullptr;
    if (limited && (!decides || (decides->standing != Standing::has && decides->standing != Standing::disputed))) decides = limited;
    if (!decides) decides = other;
    if (decides) {
        cell.standing = decides->standing;
        cell.masses = decides->masses;
        if (decides != plain && !decides->made.empty()) cell.limits = limits_words(snapshot_, decides->made.front()->claim);
        if (decides == limited && !limited->claim.scope.empty()) cell.standing = Standing::limited;
        if (cell.standing == Standing::disputed) rule(cell, *decides);
        cite(cell, *decides, subject);
        const Group& first = *decides;
        std::stable_partition(cell.claims.begin(), cell.claims.end(), [&first](ClaimRef ref) {
            return std::any_of(first.made.begin(), first.made.end(),
                               [ref](const ClaimWithEvidence* one) { return one->claim.ref == ref; });
        });
    }
    return cell;
}

// A ruling decides a dispute only where it is the last word on the very claim and nothing has come in since.
void CellReader::rule(Cell& cell, const Group& group) {
    for (const ClaimWithEvidence* one : group.made) {
        if (snapshot_.rulings(one->claim.ref).empty()) continue;
        if (!gatherer_) gatherer_.emplace(snapshot_, weigher_.profile());
        const std::vector<RulingStanding> rulings = standing_of(snapshot_, *gatherer_, one->claim.ref);
        if (rulings.empty() || disagree(rulings)) continue;
        const RulingStanding& last = rulings.front();
        if (last.superseded || last.stale() || !privacy_.may_show(last.ruling)) continue;
        if (last.ruling.decision == Ruling::Decision::left_open) continue;
        const bool accepted = last.ruling.decision == Ruling::Decision::accepted;
        cell.standing = !accepted ? Standing::never : group.claim.scope.empty() ? Standing::has : Standing::limited;
        cell.by_ruling = true;
        return;
    }
}

}  // namespace saggar
