#include "queries/dispute_search.h"

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <unordered_map>

#include "kg/model/vocabulary.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"

namespace saggar {
namespace {

constexpr std::array<std::string_view, 5> kind_words = {"two-sided", "rivals", "dates", "list", "identity"};

using Bucket = std::vector<ClaimWithEvidence>;  // claims of one subject and relation
using BucketKey = std::pair<EntityId, RelationId>;

// Which claims of a bucket belong together: a forest of parents.
class Groups {
public:
    explicit Groups(std::size_t size) : parent_(size), kinds_(size) { std::iota(parent_.begin(), parent_.end(), 0); }
    std::size_t root(std::size_t at) {
        while (parent_[at] != at) at = parent_[at] = parent_[parent_[at]];
        return at;
    }
    void join(std::size_t a, std::size_t b, DisputeKind kind) {
        mark(a, kind);
        mark(b, kind);
        parent_[root(b)] = root(a);
    }
    void mark(std::size_t at, DisputeKind kind) { kinds_[at].insert(kind); }
    const std::set<DisputeKind>& kinds(std::size_t at) const { return kinds_[at]; }

private:
    std::vector<std::size_t> parent_;
    std::vector<std::set<DisputeKind>> kinds_;
};

class Search {
public:
    Search(const Snapshot& snapshot, const Profile& profile) : snapshot_(snapshot), profile_(profile), aliases_(snapshot), aliased_(find_aliased()) {}

    std::vector<Quarrel> everywhere() {
        if (snapshot_.any_listings())
            snapshot_.each_listing([this](const ListingRow& row) { lists_[{row.subject, row.relation}].push_back(row); });
        if (snapshot_.any_arguments())
            snapshot_.each_argument([this](const ArgumentRow& row) { arguments_[row.conclusion].push_back(row.stance); });
        Bucket bucket;
        snapshot_.each_claim([&](const ClaimWithEvidence& claim) {
            if (!bucket.empty() && key_of(bucket.front()) != key_of(claim)) {
                look_at(bucket);
                bucket.clear();
            }
            bucket.push_back(claim);
        });
        if (!bucket.empty()) look_at(bucket);
        return sorted();
    }

    std::vector<Quarrel> about(EntityId thing) {
        std::set<BucketKey> keys;
        const auto add = [&](ClaimRef ref) { keys.insert({ref.subject, ref.relation}); };
        for (const ClaimWithEvidence& claim : snapshot_.claims_of(thing)) add(claim.claim.ref);
        for (const ClaimRef ref : snapshot_.claims_about(thing)) add(ref);
        for (const EvidenceRow& row : snapshot_.evidence_from(thing)) add(row.claim);
        snapshot_.each_listing([&](const ListingRow& row) {
            lists_[{row.subject, row.relation}].push_back(row);
            if (row.source == thing) keys.insert({row.subject, row.relation});
        });
        for (const BucketKey& key : keys) {
            Bucket bucket = snapshot_.claims_of(key.first, key.second);
            if (snapshot_.any_arguments()) add_arguments(bucket);
            if (!bucket.empty()) look_at(std::move(bucket));
        }
        std::erase_if(found_, [&](const Quarrel& quarrel) { return !concerns(quarrel, thing); });
        return sorted();
    }

private:
    static BucketKey key_of(const ClaimWithEvidence& claim) { return {claim.claim.ref.subject, claim.claim.ref.relation}; }

    void add_arguments(const Bucket& bucket) {
        for (const ClaimWithEvidence& claim : bucket) {
            if (arguments_.count(claim.claim.ref)) continue;
            for (const ArgumentRow& row : snapshot_.arguments_for(claim.claim.ref))
                arguments_[claim.claim.ref].push_back(row.stance);
        }
    }

    // Things that an accepted identity may concern: at most two for each ruling.
    std::set<EntityId> find_aliased() {
        std::set<EntityId> found;
        if (!aliases_.any()) return found;
        snapshot_.each_ruling([&](const RulingRow& row) {
            const Relation* relation = relation_of(row.claim.relation);
            if (!relation || !relation->identity) return;
            const auto claim = snapshot_.claim(row.claim);
            if (!claim || !claim->claim.has_entity_object()) return;
            found.insert(row.claim.subject);
            found.insert(claim->claim.object);
        });
        return found;
    }

    const Relation* relation_of(RelationId id) const {
        return snapshot_.vocabulary().find_relation(snapshot_.relation_name(id));
    }

    void look_at(Bucket bucket) {
        const BucketKey key = key_of(bucket.front());
        const Relation* relation = relation_of(key.second);
        if (relation && relation->at_most_one && aliased_.count(key.first)) {
            bucket = with_other_names(std::move(bucket));
            if (!looked_at_.insert(key_of(bucket.front())).second) return;
        }
        if (bucket.size() == 1 && !may_have_two_sides(bucket.front())) return;
        Groups groups(bucket.size());
        for (std::size_t i = 0; i < bucket.size(); ++i) look_at_one(bucket, i, relation, groups);
        const bool dates = relation && relation->to_date && !relation->at_most_one;
        if (relation && (relation->at_most_one || dates)) compare(bucket, relation->at_most_one, groups);
        keep(bucket, groups);
    }

    bool may_have_two_sides(const ClaimWithEvidence& claim) const {
        return claim.evidence.size() > 1 || lists_.count(key_of(claim)) || arguments_.count(claim.claim.ref);
    }

    // With the claims of all other names of the subject, sorted by subject: the same from whichever name one comes.
    Bucket with_other_names(Bucket bucket) {
        const BucketKey key = key_of(bucket.front());
        for (const Alias& alias : aliases_.of(key.first)) {
            Bucket others = snapshot_.claims_of(alias.other, key.second);
            if (snapshot_.any_arguments()) add_arguments(others);
            std::move(others.begin(), others.end(), std::back_inserter(bucket));
        }
        std::sort(bucket.begin(), bucket.end(), [](const ClaimWithEvidence& a, const ClaimWithEvidence& b) {
            return a.claim.ref < b.claim.ref;
        });
        return bucket;
    }

    // What a reading says in the end: "probably not" counts against.
    bool speaks_against(const EvidenceRow& row) const {
        const bool turned = profile_.certainty_of(row.certainty).value_or(1) < .5;
        return (row.stance == Stance::against || row.mention) != turned;
    }

    void look_at_one(const Bucket& bucket, std::size_t at, const Relation* relation, Groups& groups) {
        const ClaimWithEvidence& claim = bucket[at];
        bool in_favour = false, against = false;
        for (const EvidenceRow& row : claim.evidence) (speaks_against(row) ? against : in_favour) = true;
        const auto argued = arguments_.find(claim.claim.ref);
        if (argued != arguments_.end())
            for (const Stance stance : argued->second) (stance == Stance::against ? against : in_favour) = true;
        if (in_favour && against) groups.mark(at, relation && relation->identity ? DisputeKind::identity : DisputeKind::two_sided);
        if (in_favour && is_left_out(bucket, claim)) groups.mark(at, DisputeKind::list);
    }

    bool is_left_out(const Bucket& bucket, const ClaimWithEvidence& claim) const {
        const auto lists = lists_.find(key_of(claim));
        if (lists == lists_.end()) return false;
        return std::any_of(lists->second.begin(), lists->second.end(), [&](const ListingRow& list) {
            return list_covers(list, claim.claim, profile_.about_years) && !lists_it(bucket, list, claim.claim);
        });
    }

    static bool lists_it(const Bucket& bucket, const ListingRow& list, const ClaimRow& claim) {
        for (const ClaimWithEvidence& one : bucket) {
            if (!same_object(one.claim, claim) || one.claim.ref.subject != claim.ref.subject) continue;
            for (const EvidenceRow& row : one.evidence)
                if (row.source == list.source && row.stance == Stance::in_favour && !row.mention) return true;
        }
        return false;
    }

    int about_years(const ClaimWithEvidence& claim) {
        int widest = -1;
        for (const EvidenceRow& row : claim.evidence) {
            auto known = tolerance_.find(row.source);
            if (known == tolerance_.end()) {
                const auto source = snapshot_.source(row.source);
                const int years = source && source->tolerance_years ? *source->tolerance_years : profile_.about_years;
                known = tolerance_.emplace(row.source, years).first;
            }
            widest = std::max(widest, known->second);
        }
        return widest < 0 ? profile_.about_years : widest;
    }

    void compare(const Bucket& bucket, bool at_most_one, Groups& groups) {
        for (std::size_t i = 0; i < bucket.size(); ++i) {
            for (std::size_t j = i + 1; j < bucket.size(); ++j) {
                const ClaimRow &a = bucket[i].claim, &b = bucket[j].claim;
                if (!at_most_one && (a.object_type != Value::Type::date || b.object_type != Value::Type::date)) continue;
                if (!scopes_overlap(a, b, profile_.about_years)) continue;
                if (!objects_exclude(a, about_years(bucket[i]), b, about_years(bucket[j]))) continue;
                if (a.has_entity_object() && b.has_entity_object() && aliases_.are_one(a.object, b.object)) continue;
                groups.join(i, j, a.object_type == Value::Type::date ? DisputeKind::dates : DisputeKind::rivals);
                if (a.ref.subject != b.ref.subject) groups.mark(j, DisputeKind::identity);
            }
        }
    }

    void keep(const Bucket& bucket, Groups& groups) {
        std::map<std::size_t, Quarrel> quarrels;
        for (std::size_t i = 0; i < bucket.size(); ++i) {
            if (groups.kinds(i).empty()) continue;
            Quarrel& quarrel = quarrels[groups.root(i)];
            quarrel.claims.push_back(bucket[i].claim.ref);
            quarrel.kinds.insert(groups.kinds(i).begin(), groups.kinds(i).end());
            content_[bucket[i].claim.ref] = bucket[i].claim.id;
        }
        for (auto& quarrel : quarrels) found_.push_back(std::move(quarrel.second));
    }

    bool concerns(const Quarrel& quarrel, EntityId thing) const {
        const std::string& key = snapshot_.key_of(thing);
        for (const ClaimRef ref : quarrel.claims) {
            const auto claim = snapshot_.claim(ref);
            if (!claim) continue;
            if (ref.subject == thing || claim->claim.object == thing || claim->claim.scope == key) return true;
            for (const EvidenceRow& row : claim->evidence)
                if (row.source == thing) return true;
            const auto lists = lists_.find(key_of(*claim));
            if (lists == lists_.end()) continue;
            for (const ListingRow& row : lists->second)
                if (row.source == thing) return true;
        }
        return false;
    }

    std::vector<Quarrel> sorted() {
        const auto by_content = [this](ClaimRef a, ClaimRef b) { return content_.at(a) < content_.at(b); };
        for (Quarrel& quarrel : found_) std::sort(quarrel.claims.begin(), quarrel.claims.end(), by_content);
        std::sort(found_.begin(), found_.end(),
                  [&](const Quarrel& a, const Quarrel& b) { return by_content(a.claims.front(), b.claims.front()); });
        return std::move(found_);
    }

    const Snapshot& snapshot_;
    const Profile& profile_;
    Aliases aliases_;
    std::set<EntityId> aliased_;
    std::set<BucketKey> looked_at_;
    std::map<BucketKey, std::vector<ListingRow>> lists_;
    std::unordered_map<ClaimRef, std::vector<Stance>> arguments_;
    std::unordered_map<EntityId, int> tolerance_;
    std::unordered_map<ClaimRef, ContentId> content_;
    std::vector<Quarrel> found_;
};

}  // namespace

std::string word_for(DisputeKind kind) { return std::string(kind_words[static_cast<std::size_t>(kind)]); }

std::optional<DisputeKind> dispute_kind(std::string_view word) {
    const auto at = std::find(kind_words.begin(), kind_words.end(), word);
    if (at == kind_words.end()) return std::nullopt;
    return static_cast<DisputeKind>(at - kind_words.begin());
}

std::vector<Quarrel> find_quarrels(const Snapshot& snapshot, const Profile& profile, std::optional<EntityId> thing) {
    Search search(snapshot, profile);
    return thing ? search.about(*thing) : search.everywhere();
}

}  // namespace saggar
