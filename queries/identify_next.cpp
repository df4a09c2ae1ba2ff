#include "queries/identify_next.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "queries/information.h"

namespace saggar {

namespace {

constexpr std::size_t most_weighed = 3;     // for each look proposed
constexpr std::size_t most_told = 3;        // candidates named for an answer
constexpr std::size_t most_narrower = 40;   // things of one candidate that are looked through
constexpr std::size_t most_elements = 400;  // claims of one thing

// Sorted by nine digits, so that the last bits of a sum decide nothing.
double rounded_gain(double value) { return std::round(value * 1e9); }

class NextFinder {
public:
    NextFinder(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, DateWalker& walker, CellReader& cells, const IdentifyPlan& plan,
               const NextQuestion& question, IdentifyAnswer& answer)
        : snapshot_(snapshot), weigher_(weigher), privacy_(privacy), walker_(walker), cells_(cells), plan_(plan), question_(question), answer_(answer) {}

    void run() {
        const std::size_t n = std::min(answer_.candidates.size(), most_compared);
        answer_.compared_next = n;
        if (n < 2) return;
        for (std::size_t i = 0; i < n; ++i) {
            prior_.push_back(answer_.candidates[i].fit);
            look_through(i);
        }
        std::vector<std::pair<double, const What*>> estimates;
        for (const auto& one : found_) estimates.emplace_back(look_of(one.first, false).gain, &one.first);
        std::stable_sort(estimates.begin(), estimates.end(), [](const auto& a, const auto& b) { return rounded_gain(a.first) > rounded_gain(b.first); });
        if (estimates.size() > most_weighed * question_.most) estimates.resize(most_weighed * question_.most);
        std::vector<NextLook> looks;
        for (const auto& one : estimates) {
            NextLook look = look_of(*one.second, true);
            if (look.gain >= least_gain) looks.push_back(std::move(look));
        }
        std::stable_sort(looks.begin(), looks.end(), [this](const NextLook& a, const NextLook& b) {
            if (rounded_gain(a.gain) != rounded_gain(b.gain)) return a.gain > b.gain;
            return a.relation != b.relation ? a.relation < b.relation : snapshot_.key_of(a.object) < snapshot_.key_of(b.object);
        });
        if (looks.size() > question_.most) looks.resize(question_.most);
        answer_.next = std::move(looks);
    }

private:
    // By relation name and key, so that nothing depends on the order of entry.
    struct What {
        std::string relation, key;
        EntityId object;
        bool operator<(const What& other) const { return std::tie(relation, key) < std::tie(other.relation, other.key); }
    };
    // A claim by which a candidate may have it, and how far the candidate leads to its subject.
    struct Way {
        ClaimRef claim;
        Masses estimate;
        bool plain = true;
        double support = 1;
        bool denies = true;
    };
    using Ways = std::vector<std::vector<Way>>;  // beside the candidates compared

    std::vector<Way>& at(const What& what, std::size_t candidate) {
        Ways& all = found_[what];
        all.resize(std::min(answer_.candidates.size(), most_compared));
        return all[candidate];
    }

    Holding holding(const std::vector<Way>& ways, bool weighed) {
        Holding found;
        for (const Way& way : ways) {
            const Masses masses = weighed ? weigher_.masses(way.claim) : way.estimate;
            found.has = std::max(found.has, way.support * masses.support().value_or(0));
            if (way.denies && way.plain) found.never = std::max(found.never, way.support * (1 - masses.possibility().value_or(1)));
        }
        return found;
    }

    const What* named(const Relation& relation, EntityId object) {
        const auto known = names_.find({relation.name, object});
        if (known != names_.end()) return known->second.object ? &known->second : nullptr;
        What what{relation.name, snapshot_.key_of(object), object};
        std::vector<EntityId> all{object};
        for (const Alias& alias : walker_.other_names(object)) all.push_back(alias.other);
        for (const EntityId name : all) {
            if (!privacy_.may_show(name)) what.object = {};
            if (snapshot_.key_of(name) < what.key) what.key = snapshot_.key_of(name);
            for (const Sighting& one : question_.asked)
                if (one.object == name) what.object = {};  // asked already, under whatever relation
        }
        if (what.object) what.object = snapshot_.need(what.key);
        const What& kept = names_[{relation.name, object}] = what;
        return kept.object ? &kept : nullptr;
    }

    void look_through(std::size_t candidate) {
        for (const EntityId name : answer_.candidates[candidate].thing.names) {
            look_at(candidate, name, 1, true);
            for (const Relation* relation : plan_.broader) {
                const RelationId id = snapshot_.relation_id(relation->name);
                if (!id) continue;
                for (const ClaimWithEvidence& claim : snapshot_.claims_of(name, id))
                    if (claim.claim.has_entity_object() && privacy_.may_show(claim))
                        look_at(candidate, claim.claim.object, cells_.estimate_of(claim).support().value_or(0), true);
            }
            look_through_narrower(candidate, name);
        }
    }

    void look_through_narrower(std::size_t candidate, EntityId name) {
        std::size_t seen = 0;
        for (const Relation* relation : plan_.narrower) {
            const RelationId id = snapshot_.relation_id(relation->name);
            if (!id) continue;
            LinkChoice choice;
            choice.add(id, false);
            std::vector<Link> links;
            snapshot_.links(name, choice, links);
            for (const Link& link : links) {
                if (++seen > most_narrower) return;
                const auto claim = snapshot_.claim(link.claim);
                if (claim && privacy_.may_show(*claim)) look_at(candidate, link.other, cells_.estimate_of(*claim).support().value_or(0), false);
            }
        }
    }

    struct Had {
        const What* what = nullptr;
        Way way;
    };

    // What is claimed of one thing; a shape is asked once for all its items.
    const std::vector<Had>& had_by(EntityId thing) {
        const auto [place, is_new] = had_.try_emplace(thing);
        std::vector<Had>& all = place->second;
        if (!is_new) return all;
        const std::string kind(snapshot_.kind_of(thing));
        for (const Relation* relation : plan_.looked_at) {
            const RelationId id = snapshot_.relation_id(relation->name);
            if (!id || !relation->takes_subject(kind)) continue;
            for (const ClaimWithEvidence& claim : snapshot_.claims_of(thing, id)) {
                if (all.size() == most_elements) return all;
                if (!claim.claim.has_entity_object() || !privacy_.may_show(claim)) continue;
                const What* what = named(*relation, claim.claim.object);
                if (!what) continue;
                const bool plain = claim.claim.scope.empty() && claim.claim.when.empty();
                all.push_back({what, {claim.claim.ref, cells_.estimate_of(claim), plain}});
            }
        }
        return all;
    }

    // `way`: how far the candidate leads to the thing.
    void look_at(std::size_t candidate, EntityId thing, double way, bool denies) {
        for (const Had& one : had_by(thing)) {
            Way found = one.way;
            found.support = way;
            found.denies = denies;
            at(*one.what, candidate).push_back(found);
        }
    }

    NextLook look_of(const What& what, bool weighed) {
        const Ways& ways = found_.at(what);
        const Identifying& conventions = weigher_.profile().identifying;
        const Relation* relation = snapshot_.vocabulary().find_relation(what.relation);
        std::vector<double> there, missing;
        for (std::size_t i = 0; i < prior_.size(); ++i) {
            Holding one = holding(ways[i], weighed);
            // Of what it can have only one of, another one speaks against this one.
            if (relation->at_most_one && one.has == 0) one.never = std::max(one.never, best_other(what, i));
            const double sum = one.has + one.never;
            if (sum > 1) {
                one.has /= sum;
                one.never /= sum;
            }
            there.push_back(chance_seen(one, what.relation, conventions));
            missing.push_back(1 - there.back());
        }
        NextLook look;
        look.relation = what.relation;
        look.object = what.object;
        look.gain = information_gain(prior_, {there, missing});
        double sum = 0;
        for (std::size_t i = 0; i < prior_.size(); ++i) {
            look.chance += prior_[i] * there[i];
            sum += prior_[i];
        }
        look.chance = sum > 0 ? look.chance / sum : 0;
        look.if_there = after(there);
        look.if_not = after(missing);
        return look;
    }

    double best_other(const What& what, std::size_t candidate) {
        double best = 0;
        for (auto at = found_.lower_bound({what.relation, "", {}}); at != found_.end() && at->first.relation == what.relation; ++at)
            if (at->first.key != what.key) best = std::max(best, holding(at->second[candidate], false).has);
        return best;
    }

    // The likeliest of those compared, with their fits among these.
    std::vector<std::pair<EntityId, double>> after(const std::vector<double>& chances) const {
        std::vector<std::pair<EntityId, double>> all;
        double sum = 0;
        for (std::size_t i = 0; i < prior_.size(); ++i) {
            all.emplace_back(answer_.candidates[i].thing.id, prior_[i] * chances[i]);
            sum += all.back().second;
        }
        for (auto& one : all) one.second = sum > 0 ? one.second / sum : 0;
        std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return rounded_gain(a.second) > rounded_gain(b.second); });
        if (all.size() > most_told) all.resize(most_told);
        return all;
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    Privacy& privacy_;
    DateWalker& walker_;
    CellReader& cells_;
    const IdentifyPlan& plan_;
    const NextQuestion& question_;
    IdentifyAnswer& answer_;
    std::vector<double> prior_;
    std::map<What, Ways> found_;
    std::map<std::pair<std::string, EntityId>, What> names_;
    std::map<EntityId, std::vector<Had>> had_;
};

}  // namespace

void find_next(const Snapshot& snapshot, Weigher& weigher, Privacy& privacy, DateWalker& walker, CellReader& cells, const IdentifyPlan& plan,
               const NextQuestion& question, IdentifyAnswer& answer) {
    NextFinder(snapshot, weigher, privacy, walker, cells, plan, question, answer).run();
}

}  // namespace saggar
