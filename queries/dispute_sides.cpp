#include "queries/dispute_sides.h"

#include <algorithm>

#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"

namespace saggar {
namespace {

bool lists_it(const ClaimBucket& bucket, const ListingRow& list, const ClaimRow& claim) {
    for (const ClaimWithEvidence& one : bucket) {
        if (!same_object(one.claim, claim) || one.claim.ref.subject != claim.ref.subject) continue;
        for (const EvidenceRow& row : one.evidence)
            if (row.source == list.source && row.stance == Stance::in_favour && !row.mention) return true;
    }
    return false;
}

}  // namespace

SideReader::SideReader(const Snapshot& snapshot, const Profile& profile, Aliases& aliases)
    : snapshot_(snapshot), profile_(profile), aliases_(aliases) {
    find_aliased();
}

void SideReader::find_aliased() {
    if (!aliases_.any()) return;
    snapshot_.each_ruling([&](const RulingRow& row) {
        const Relation* relation = snapshot_.vocabulary().find_relation(snapshot_.relation_name(row.claim.relation));
        if (!relation || !relation->identity) return;
        const auto claim = snapshot_.claim(row.claim);
        if (!claim || !claim->claim.has_entity_object()) return;
        aliased_.insert(row.claim.subject);
        aliased_.insert(claim->claim.object);
    });
}

void SideReader::read_lists() {
    if (!snapshot_.any_listings()) return;
    snapshot_.each_listing([this](const ListingRow& row) { lists_[{row.subject, row.relation}].push_back(row); });
}

void SideReader::read_arguments() {
    if (!snapshot_.any_arguments()) return;
    snapshot_.each_argument([this](const ArgumentRow& row) { arguments_[row.conclusion].push_back(row.stance); });
}

void SideReader::read_arguments(const ClaimBucket& bucket) {
    if (!snapshot_.any_arguments()) return;
    for (const ClaimWithEvidence& claim : bucket) {
        if (arguments_.count(claim.claim.ref)) continue;
        for (const ArgumentRow& row : snapshot_.arguments_for(claim.claim.ref))
            arguments_[claim.claim.ref].push_back(row.stance);
    }
}

const std::vector<ListingRow>* SideReader::lists(const BucketKey& key) const {
    const auto found = lists_.find(key);
    return found == lists_.end() ? nullptr : &found->second;
}

bool SideReader::has_other_forms(const ClaimRow& row, const Relation* relation) const {
    if (!row.has_entity_object()) return false;
    return (relation && relation->symmetric) || is_aliased(row.ref.subject) || is_aliased(row.object);
}

bool SideReader::may_have_two(const ClaimWithEvidence& claim, const Relation* relation) const {
    return claim.evidence.size() > 1 || lists(bucket_key(claim)) || arguments_.count(claim.claim.ref) ||
           has_other_forms(claim.claim, relation);
}

bool SideReader::speaks_against(const EvidenceRow& row) const {
    const bool turned = profile_.certainty_of(row.certainty).value_or(1) < .5;
    return (row.stance == Stance::against || row.mention) != turned;
}

SpokenSides SideReader::of(const ClaimBucket& bucket, const ClaimWithEvidence& claim, const Relation* relation) const {
    SpokenSides sides;
    for (const EvidenceRow& row : claim.evidence) (speaks_against(row) ? sides.against : sides.in_favour) = true;
    const auto argued = arguments_.find(claim.claim.ref);
    if (argued != arguments_.end())
        for (const Stance stance : argued->second) (stance == Stance::against ? sides.against : sides.in_favour) = true;
    sides.left_out = is_left_out(bucket, claim);
    if (!sides.in_favour && (sides.against || sides.left_out)) sides.in_favour = is_supported_otherwise(claim.claim, relation);
    return sides;
}

bool SideReader::is_supported_otherwise(const ClaimRow& row, const Relation* relation) const {
    if (!has_other_forms(row, relation)) return false;
    const bool turns = relation && relation->symmetric;
    const auto names_of = [&](EntityId thing) {
        std::vector<std::string> names = {snapshot_.key_of(thing)};
        for (const Alias& alias : aliases_.of(thing)) names.push_back(snapshot_.key_of(alias.other));
        return names;
    };
    Claim same = snapshot_.to_record(row);
    for (const std::string& subject : names_of(row.ref.subject)) {
        for (const std::string& object : names_of(row.object)) {
            same.subject = subject;
            same.object.text = object;
            if (is_supported(same)) return true;
            std::swap(same.subject, same.object.text);
            if (turns && is_supported(same)) return true;
        }
    }
    return false;
}

bool SideReader::is_supported(const Claim& claim) const {
    const auto ref = snapshot_.find_claim(claim);
    const auto row = ref ? snapshot_.claim(*ref) : std::nullopt;
    if (!row) return false;
    return !snapshot_.arguments_for(*ref).empty() ||
           std::any_of(row->evidence.begin(), row->evidence.end(), [this](const EvidenceRow& one) { return !speaks_against(one); });
}

bool SideReader::is_left_out(const ClaimBucket& bucket, const ClaimWithEvidence& claim) const {
    const auto* all = lists(bucket_key(claim));
    return all && std::any_of(all->begin(), all->end(), [&](const ListingRow& list) {
               return list_covers(list, claim.claim, profile_.about_years) && !lists_it(bucket, list, claim.claim);
           });
}

}  // namespace saggar
