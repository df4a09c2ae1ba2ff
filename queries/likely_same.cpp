#include "queries/likely_same.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/aliases.h"
#include "queries/privacy.h"

namespace saggar {
namespace {

// What tells names apart: neither blanks and signs do, nor the word between partners. "A & B", "A &amp; B", "A and B" and "A B"
// are one name.
std::string folded_name(std::string text) {
    for (std::size_t at = 0; (at = text.find("&amp;", at)) != std::string::npos;) text.replace(at, 5, " & ");
    std::string slug = '-' + slugify(text) + '-';
    static constexpr std::string_view joining = "-and-";
    for (std::size_t at = 0; (at = slug.find(joining, at)) != std::string::npos;) slug.erase(at, joining.size() - 1);
    while (!slug.empty() && slug.back() == '-') slug.pop_back();
    return slug.empty() ? slug : slug.substr(1);
}

// Conventions: how much each sign counts; signs are joined as independent chances.
constexpr double by_name = .7, by_value = .5, by_neighbours = .6, by_difference = .5;
constexpr std::size_t least_shared = 3;

class PairSearch {
public:
    PairSearch(const Snapshot& snapshot, const LikelySameQuestion& question)
        : snapshot_(snapshot), question_(question), privacy_(snapshot, question.with_private), aliases_(snapshot) {}

    std::vector<LikelySame> find() {
        gather_names();
        gather_claims();
        pair_up(by_names_, [](LikelySame& pair, const auto& name) { pair.names.push_back(std::get<1>(name)); });
        pair_up(by_values_, [this](LikelySame& pair, const auto& value) {
            pair.values.push_back(snapshot_.relation_name(std::get<1>(value)) + " " + std::get<2>(value));
        });
        pair_up(by_neighbour_, [](LikelySame& pair, const auto&) { ++pair.neighbours; });
        std::vector<LikelySame> found;
        for (auto& entry : pairs_)
            if (judge(entry.second)) found.push_back(std::move(entry.second));
        std::sort(found.begin(), found.end(), [this](const LikelySame& a, const LikelySame& b) {
            if (a.score != b.score) return a.score > b.score;
            return std::pair(snapshot_.key_of(a.one), snapshot_.key_of(a.other)) < std::pair(snapshot_.key_of(b.one), snapshot_.key_of(b.other));
        });
        if (found.size() > question_.most) found.resize(question_.most);
        return found;
    }

private:
    bool wanted(EntityId thing) {
        return (question_.kind.empty() || snapshot_.kind_of(thing) == question_.kind) && privacy_.may_show(thing);
    }
    std::string kind(EntityId thing) const { return std::string(snapshot_.kind_of(thing)); }

    void gather_names() {
        snapshot_.each_entity([this](EntityId id, const Entity& entity) {
            if (!wanted(id)) return;
            const auto add = [&](const std::string& text) {
                const std::string folded = folded_name(text);
                if (!folded.empty()) by_names_[{kind(id), folded}].insert(id);
            };
            add(entity.label.text);
            for (const Name& name : entity.also) add(name.text);
        });
    }

    void gather_claims() {
        snapshot_.each_claim([this](const ClaimWithEvidence& claim) {
            const ClaimRow& row = claim.claim;
            if (!privacy_.may_show(claim)) return;
            if (row.has_entity_object()) {
                if (is_identity(row.ref.relation)) return;
                add_neighbour(row.ref.subject, row.ref.relation, row.object, true);
                add_neighbour(row.object, row.ref.relation, row.ref.subject, false);
            } else if (is_number(row) && wanted(row.ref.subject)) {
                by_values_[{kind(row.ref.subject), row.ref.relation, fold(row.object_text)}].insert(row.ref.subject);
            }
        });
    }

    void add_neighbour(EntityId thing, RelationId relation, EntityId neighbour, bool forward) {
        if (!wanted(thing)) return;
        by_neighbour_[{kind(thing), relation, neighbour, forward}].insert(thing);
        neighbours_[thing].insert({relation, neighbour, forward});
    }

    bool is_identity(RelationId relation) const {
        const Relation* known = snapshot_.vocabulary().find_relation(snapshot_.relation_name(relation));
        return known && known->identity;
    }

    // A number or a text with one in it; "lead" or "blue" tells nothing apart.
    static bool is_number(const ClaimRow& row) {
        return row.object_type == Value::Type::text && row.object_text.find_first_of("0123456789") != std::string::npos;
    }

    template <class Sharing, class Note>
    void pair_up(const Sharing& sharing, Note note) {
        for (const auto& [sign, things] : sharing) {
            if (things.size() < 2 || things.size() > most_sharing) continue;
            for (auto a = things.begin(); a != things.end(); ++a)
                for (auto b = std::next(a); b != things.end(); ++b) note(pair(*a, *b), sign);
        }
    }

    LikelySame& pair(EntityId a, EntityId b) {
        if (snapshot_.key_of(b) < snapshot_.key_of(a)) std::swap(a, b);
        LikelySame& found = pairs_[{a, b}];
        found.one = a;
        found.other = b;
        return found;
    }

    // Scores the pair; false where it is not worth proposing.
    bool judge(LikelySame& pair) {
        const auto& one = neighbours_[pair.one];
        const auto& other = neighbours_[pair.other];
        std::size_t common = 0;
        for (const auto& neighbour : one) common += other.count(neighbour);
        pair.all_neighbours = one.size() + other.size() - common;
        const double share = pair.all_neighbours == 0 ? 0 : static_cast<double>(common) / static_cast<double>(pair.all_neighbours);
        const bool neighbourly = pair.neighbours >= least_shared && share >= .5;
        if (pair.names.empty() && pair.values.empty() && !neighbourly) return false;
        if (is_decided(pair)) return false;
        pair.differ = differences(one, other);
        double against = 1;
        for (std::size_t i = 0; i < pair.names.size(); ++i) against *= 1 - by_name;
        for (std::size_t i = 0; i < pair.values.size(); ++i) against *= 1 - by_value;
        against *= 1 - by_neighbours * share;
        pair.score = 1 - against;
        for (std::size_t i = 0; i < pair.differ.size(); ++i) pair.score *= by_difference;
        return true;
    }

    // Whether somebody has ruled on it, either way, or it follows from what is accepted.
    bool is_decided(const LikelySame& pair) {
        if (aliases_.are_one(pair.one, pair.other)) return true;
        for (const Link& link : snapshot_.links(pair.one))
            if (link.other == pair.other && is_identity(link.claim.relation) && !snapshot_.rulings(link.claim).empty()) return true;
        return false;
    }

    using Neighbour = std::tuple<RelationId, EntityId, bool>;

    std::vector<std::string> differences(const std::set<Neighbour>& one, const std::set<Neighbour>& other) const {
        std::map<RelationId, std::set<EntityId>> of_one, of_other;
        for (const auto& [relation, neighbour, forward] : one)
            if (forward) of_one[relation].insert(neighbour);
        for (const auto& [relation, neighbour, forward] : other)
            if (forward) of_other[relation].insert(neighbour);
        std::vector<std::string> found;
        for (const auto& [relation, objects] : of_one) {
            const Relation* known = snapshot_.vocabulary().find_relation(snapshot_.relation_name(relation));
            const auto there = of_other.find(relation);
            if (!known || !known->at_most_one || there == of_other.end()) continue;
            const bool meet = std::any_of(objects.begin(), objects.end(), [&](EntityId id) { return there->second.count(id) != 0; });
            if (!meet) found.push_back(known->name);
        }
        std::sort(found.begin(), found.end());
        return found;
    }

    const Snapshot& snapshot_;
    const LikelySameQuestion& question_;
    Privacy privacy_;
    Aliases aliases_;
    std::map<std::tuple<std::string, std::string>, std::set<EntityId>> by_names_;
    std::map<std::tuple<std::string, RelationId, std::string>, std::set<EntityId>> by_values_;
    std::map<std::tuple<std::string, RelationId, EntityId, bool>, std::set<EntityId>> by_neighbour_;
    std::map<EntityId, std::set<Neighbour>> neighbours_;
    std::map<std::pair<EntityId, EntityId>, LikelySame> pairs_;
};

}  // namespace

std::vector<LikelySame> likely_same(const Snapshot& snapshot, const LikelySameQuestion& question) {
    return PairSearch(snapshot, question).find();
}

}  // namespace saggar
