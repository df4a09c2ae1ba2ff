#include "queries/dispute_search.h"

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <unordered_map>

#include "kg/model/vocabulary.h"
#include "kg/store/ruling_order.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"
#include "queries/dispute_sides.h"

namespace saggar {
namespace {

constexpr std::array<std::string_view, 6> kind_words = {"two-sided", "rivals", "dates", "list", "identity", "rulings"};

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
    void exclude(std::size_t a, std::size_t b) { excluding_.emplace_back(a, b); }
    const std::vector<std::pair<std::size_t, std::size_t>>& excluding() const { return excluding_; }

private:
    std::vector<std::pair<std::size_t, std::size_t>> excluding_;
    std::vector<std::size_t> parent_;
    std::vector<std::set<DisputeKind>> kinds_;
};

class DisputeSearch {
public:
    DisputeSearch(const Snapshot& snapshot, const Profile& profile) : snapshot_(snapshot), profile_(profile), aliases_(snapshot), sides_(snapshot, profile, aliases_) {}

    Quarrels everywhere() {
        sides_.read_lists();
        sides_.read_arguments();
        ClaimBucket bucket;
        snapshot_.each_claim([&](const ClaimWithEvidence& claim) {
            if (!bucket.empty() && bucket_key(bucket.front()) != bucket_key(claim)) {
                look_at(bucket);
                bucket.clear();
            }
            bucket.push_back(claim);
        });
        if (!bucket.empty()) look_at(bucket);
        add_clashes(std::nullopt);
        std::set<ClaimRef> ruled;
        snapshot_.each_ruling([&](const RulingRow& row) { ruled.insert(row.claim); });
        add_rulings(ruled);
        return sorted();
    }

    Quarrels about(EntityId thing) {
        std::set<BucketKey> keys;
        std::set<ClaimRef> ruled;
        const auto add = [&](ClaimRef ref) {
            keys.insert({ref.subject, ref.relation});
            ruled.insert(ref);
        };
        for (const ClaimWithEvidence& claim : snapshot_.claims_of(thing)) add(claim.claim.ref);
        for (const ClaimRef ref : snapshot_.claims_about(thing)) add(ref);
        for (const EvidenceRow& row : snapshot_.evidence_from(thing)) add(row.claim);
        sides_.read_lists();
        snapshot_.each_listing([&](const ListingRow& row) {
            if (row.source == thing) keys.insert({row.subject, row.relation});
        });
        for (const BucketKey& key : keys) {
            ClaimBucket bucket = snapshot_.claims_of(key.first, key.second);
            sides_.read_arguments(bucket);
            if (!bucket.empty()) look_at(std::move(bucket));
        }
        std::erase_if(found_, [&](const Quarrel& quarrel) { return !concerns(quarrel, thing); });
        add_clashes(thing);
        add_rulings(ruled);
        return sorted();
    }

private:
    const Relation* relation_of(RelationId id) const {
        return snapshot_.vocabulary().find_relation(snapshot_.relation_name(id));
    }

    void look_at(ClaimBucket bucket) {
        const BucketKey key = bucket_key(bucket.front());
        const Relation* relation = relation_of(key.second);
        if (relation && (relation->at_most_one || relation->to_date) && sides_.is_aliased(key.first)) {
            bucket = with_other_names(std::move(bucket));
            if (!looked_at_.insert(bucket_key(bucket.front())).second) return;
        }
        if (bucket.size() == 1 && !sides_.may_have_two(bucket.front(), relation)) return;
        Groups groups(bucket.size());
        for (std::size_t i = 0; i < bucket.size(); ++i) {
            const SpokenSides sides = sides_.of(bucket, bucket[i], relation);
            const bool identity = relation && relation->identity;
            if (sides.in_favour && sides.against) groups.mark(i, identity ? DisputeKind::identity : DisputeKind::two_sided);
            if (sides.in_favour && sides.left_out) groups.mark(i, DisputeKind::list);
        }
        const bool dates = relation && relation->to_date && !relation->at_most_one;
        if (relation && (relation->at_most_one || dates)) compare(bucket, relation->at_most_one, groups);
        keep(bucket, groups);
    }

    // With the claims of all other names of the subject, sorted by subject: the same from whichever name one comes.
    ClaimBucket with_other_names(ClaimBucket bucket) {
        const BucketKey key = bucket_key(bucket.front());
        for (const Alias& alias : aliases_.of(key.first)) {
            ClaimBucket others = snapshot_.claims_of(alias.other, key.second);
            sides_.read_arguments(others);
            std::move(others.begin(), others.end(), std::back_inserter(bucket));
        }
        std::sort(bucket.begin(), bucket.end(), [](const ClaimWithEvidence& a, const ClaimWithEvidence& b) {
            return a.claim.ref < b.claim.ref;
        });
        return bucket;
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

    void compare(const ClaimBucket& bucket, bool at_most_one, Groups& groups) {
        for (std::size_t i = 0; i < bucket.size(); ++i) {
            for (std::size_t j = i + 1; j < bucket.size(); ++j) {
                const ClaimRow &a = bucket[i].claim, &b = bucket[j].claim;
                if (!at_most_one && (a.object_type != Value::Type::date || b.object_type != Value::Type::date)) continue;
                if (!scopes_overlap(a, b, profile_.about_years)) continue;
                if (!objects_exclude(a, about_years(bucket[i]), b, about_years(bucket[j]))) continue;
                if (a.has_entity_object() && b.has_entity_object() && aliases_.are_one(a.object, b.object)) continue;
                groups.join(i, j, a.object_type == Value::Type::date ? DisputeKind::dates : DisputeKind::rivals);
                groups.exclude(i, j);
                if (a.ref.subject != b.ref.subject) groups.mark(j, DisputeKind::identity);
            }
        }
    }

    void keep(const ClaimBucket& bucket, Groups& groups) {
        std::map<std::size_t, Quarrel> quarrels;
        for (std::size_t i = 0; i < bucket.size(); ++i) {
            if (groups.kinds(i).empty()) continue;
            Quarrel& quarrel = quarrels[groups.root(i)];
            quarrel.claims.push_back(bucket[i].claim.ref);
            quarrel.kinds.insert(groups.kinds(i).begin(), groups.kinds(i).end());
            content_[bucket[i].claim.ref] = bucket[i].claim.id;
        }
        for (const auto& [a, b] : groups.excluding()) {
            const ClaimRef one = bucket[a].claim.ref, other = bucket[b].claim.ref;
            quarrels[groups.root(a)].excluding.insert({{one, other}, {other, one}});
        }
        for (auto& quarrel : quarrels) found_.push_back(std::move(quarrel.second));
    }

    // A clash joins the quarrel that its date is in already, or makes one.
    void add_clashes(std::optional<EntityId> thing) {
        const TimeRules rules = TimeRules::of(snapshot_.vocabulary());
        TimeClashes clashes = find_time_clashes(snapshot_, profile_, rules, thing);
        times_compared_ = clashes.complete;
        std::unordered_map<ClaimRef, std::size_t> place;
        for (std::size_t i = 0; i < found_.size(); ++i)
            for (const ClaimRef claim : found_[i].claims) place.emplace(claim, i);
        for (TimeClash& clash : clashes.found) {
            const auto [at, is_new] = place.emplace(clash.dated, found_.size());
            if (is_new) {
                found_.push_back({{clash.dated}, {}, {}, {}});
                content_[clash.dated] = snapshot_.content_of(clash.dated);
            }
            found_[at->second].kinds.insert(DisputeKind::dates);
            found_[at->second].clashes.push_back(std::move(clash));
        }
    }

    void add_rulings(const std::set<ClaimRef>& ruled) {
        std::unordered_map<ClaimRef, std::size_t> place;
        for (std::size_t i = 0; i < found_.size(); ++i)
            for (const ClaimRef claim : found_[i].claims) place.emplace(claim, i);
        for (const ClaimRef claim : ruled) {
            if (!snapshot_.claim(claim) || !rulings_differ(ranked_rulings(snapshot_.rulings(claim)))) continue;
            const auto [at, is_new] = place.emplace(claim, found_.size());
            if (is_new) {
                found_.push_back({{claim}, {}, {}, {}});
                content_[claim] = snapshot_.content_of(claim);
            }
            found_[at->second].kinds.insert(DisputeKind::rulings);
        }
    }

    bool concerns(const Quarrel& quarrel, EntityId thing) const {
        const std::string& key = snapshot_.key_of(thing);
        for (const ClaimRef ref : quarrel.claims) {
            const auto claim = snapshot_.claim(ref);
            if (!claim) continue;
            if (ref.subject == thing || claim->claim.object == thing || claim->claim.scope == key) return true;
            for (const EvidenceRow& row : claim->evidence)
                if (row.source == thing) return true;
            if (const auto* lists = sides_.lists(bucket_key(*claim)))
                for (const ListingRow& row : *lists)
                    if (row.source == thing) return true;
        }
        return false;
    }

    Quarrels sorted() {
        const auto by_content = [this](ClaimRef a, ClaimRef b) { return content_.at(a) < content_.at(b); };
        for (Quarrel& quarrel : found_) std::sort(quarrel.claims.begin(), quarrel.claims.end(), by_content);
        std::sort(found_.begin(), found_.end(),
                  [&](const Quarrel& a, const Quarrel& b) { return by_content(a.claims.front(), b.claims.front()); });
        return {std::move(found_), times_compared_};
    }

    const Snapshot& snapshot_;
    const Profile& profile_;
    Aliases aliases_;
    SideReader sides_;
    std::set<BucketKey> looked_at_;
    std::unordered_map<EntityId, int> tolerance_;
    std::unordered_map<ClaimRef, ContentId> content_;
    std::vector<Quarrel> found_;
    bool times_compared_ = true;
};

}  // namespace

std::string word_for(DisputeKind kind) { return std::string(kind_words[static_cast<std::size_t>(kind)]); }

std::optional<DisputeKind> dispute_kind(std::string_view word) {
    const auto at = std::find(kind_words.begin(), kind_words.end(), word);
    if (at == kind_words.end()) return std::nullopt;
    return static_cast<DisputeKind>(at - kind_words.begin());
}

Quarrels find_quarrels(const Snapshot& snapshot, const Profile& profile, std::optional<EntityId> thing) {
    DisputeSearch search(snapshot, profile);
    return thing ? search.about(*thing) : search.everywhere();
}

}  // namespace saggar
