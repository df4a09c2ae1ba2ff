#include "queries/identify.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"
#include "queries/identify_holding.h"
#include "queries/identify_next.h"

namespace saggar {

double chance_seen(const Holding& holding, const std::string& relation, const Identifying& conventions) {
    const double h = holding.has + conventions.unknown * std::max(0.0, 1 - holding.has - holding.never);
    return h * conventions.chance_shown(relation) + (1 - h) * conventions.mistaken;
}

namespace {

constexpr double least_support = .25;  // of dated claims; the convention of dating
constexpr double alike = 1e-9;

// Sorted by twelve digits, so that the last bits of a product decide nothing.
double rounded_fit(double value) { return std::round(value * 1e12); }

class Identification {
public:
    Identification(const Snapshot& snapshot, Weigher& weigher, const IdentifyQuestion& question)
        : snapshot_(snapshot),
          weigher_(weigher),
          question_(question),
          privacy_(snapshot, question.with_private),
          walker_(snapshot, question.with_private),
          plan_(identify_plan(snapshot, weigher.profile(), question.kind)),
          finder_(snapshot, privacy_, walker_, plan_),
          holdings_(snapshot, weigher, privacy_, walker_.aliases()) {}

    IdentifyAnswer run() {
        if (question_.sightings.empty()) throw UsageFault("nothing is seen", "say what is seen with --seen \"relation object\"");
        answer_.kind = plan_.kind;
        answer_.profile = weigher_.profile().title();
        name_candidates();
        for (std::size_t i = 0; i < question_.sightings.size(); ++i) hold(i);
        read_dates();
        fit();
        sum_broader();
        NextQuestion next{question_.most_looks, question_.sightings};
        find_next(snapshot_, weigher_, privacy_, walker_, holdings_.cells(), plan_, next, answer_);
        return std::move(answer_);
    }

private:
    // Under accepted identities one candidate each; the smallest key names it.
    EntityId add_candidate(EntityId id) {
        const auto known = place_.find(id);
        if (known != place_.end()) return answer_.candidates[known->second].thing.id;
        NamedThing thing{id, {id}};
        for (const Alias& alias : walker_.other_names(id))
            if (snapshot_.kind_of(alias.other) == plan_.kind && privacy_.may_show(alias.other)) thing.names.push_back(alias.other);
        std::sort(thing.names.begin(), thing.names.end(),
                  [this](EntityId a, EntityId b) { return snapshot_.key_of(a) < snapshot_.key_of(b); });
        thing.id = thing.names.front();
        for (const EntityId name : thing.names) place_[name] = answer_.candidates.size();
        answer_.candidates.push_back({std::move(thing), 0, std::vector<Holding>(question_.sightings.size())});
        return answer_.candidates.back().thing.id;
    }

    // A name that only withdrawn records left behind is no candidate.
    bool is_there(EntityId id) const {
        const auto entity = snapshot_.entity(id);
        return (entity && !entity->label.text.empty()) || !snapshot_.claims_of(id).empty() || !snapshot_.claims_about(id).empty();
    }

    void name_candidates() {
        const auto keys = snapshot_.keys_with_prefix(plan_.kind + ":", question_.most_candidates + 1);
        if (keys.size() > question_.most_candidates) answer_.complete = false;
        for (std::size_t i = 0; i < keys.size() && i < question_.most_candidates; ++i) {
            const auto id = snapshot_.find(keys[i]);
            if (id && privacy_.may_show(*id) && is_there(*id)) add_candidate(*id);
        }
    }

    // What the record says of every candidate and one thing seen.
    void hold(std::size_t sighting) {
        const Sighting& seen = question_.sightings[sighting];
        if (seen.value.type == Value::Type::date && !seen.object) return;  // dates bound, see read_dates
        WayFinder::Found found = finder_.find(seen, question_.most_ways);
        answer_.complete = answer_.complete && found.complete;
        std::map<std::size_t, std::vector<Way>> by_place;
        for (auto& [id, ways] : found.ways) {
            add_candidate(id);
            auto& at = by_place[place_.at(id)];
            at.insert(at.end(), std::make_move_iterator(ways.begin()), std::make_move_iterator(ways.end()));
        }
        const auto relations = finder_.direct(seen);
        const bool may_exclude = holdings_.may_be_ruled_out(relations);
        for (std::size_t i = 0; i < answer_.candidates.size(); ++i) {
            const auto ways = by_place.find(i);
            if (ways == by_place.end() && !may_exclude) continue;
            static const std::vector<Way> none;
            answer_.candidates[i].holdings[sighting] =
                holdings_.read(answer_.candidates[i].thing, seen, relations, ways == by_place.end() ? none : ways->second);
        }
    }

    // Of what was seen: dates on the piece, and when the glazes, marks and so on were in use.
    void read_dates() {
        const TimeRules rules = TimeRules::of(snapshot_.vocabulary());
        MadeWindows windows(snapshot_, weigher_, walker_, holdings_.cells(), rules, least_support);
        for (const Sighting& seen : question_.sightings) {
            if (!seen.seen) continue;
            if (seen.object) {
                const MadeWindow window = windows.of(seen.object, seen.relation);
                narrow(window.earliest, window.latest);
            } else if (seen.value.type == Value::Type::date) {
                if (const auto days = days_of_text(seen.value.text, weigher_.profile().about_years)) narrow(days->earliest, days->latest);
            }
        }
        answer_.times_clash = answer_.earliest > answer_.latest;
        if (answer_.times_clash || (answer_.earliest == time::before_all && answer_.latest == time::after_all)) return;
        windows_.resize(answer_.candidates.size());
        for (std::size_t i = 0; i < answer_.candidates.size(); ++i)
            if (!denied(i)) windows_[i] = windows.of(answer_.candidates[i].thing.id, example_relation);
    }

    void narrow(time::Day earliest, time::Day latest) {
        answer_.earliest = std::max(answer_.earliest, earliest);
        answer_.latest = std::min(answer_.latest, latest);
    }

    // The first thing seen that the candidate never had.
    std::optional<std::size_t> denied(std::size_t place) const {
        for (std::size_t i = 0; i < question_.sightings.size(); ++i) {
            const Holding& holding = answer_.candidates[place].holdings[i];
            if (question_.sightings[i].seen && holding.never >= weigher_.profile().supported && holding.both < weigher_.profile().contested_from)
                return i;
        }
        return std::nullopt;
    }

    std::optional<Excluded> excluded(std::size_t place) const {
        const Candidate& candidate = answer_.candidates[place];
        if (const auto sighting = denied(place)) return Excluded{candidate.thing.id, sighting, candidate.holdings[*sighting], {}};
        if (!windows_.empty() && (windows_[place].earliest > answer_.latest || windows_[place].latest < answer_.earliest))
            return Excluded{candidate.thing.id, std::nullopt, {}, windows_[place]};
        return std::nullopt;
    }

    void fit() {
        const Identifying& conventions = weigher_.profile().identifying;
        std::vector<Candidate> left;
        double sum = 0;
        for (std::size_t i = 0; i < answer_.candidates.size(); ++i) {
            if (auto out = excluded(i)) {
                answer_.excluded.push_back(*std::move(out));
                continue;
            }
            Candidate& candidate = answer_.candidates[i];
            candidate.fit = 1;
            for (std::size_t k = 0; k < question_.sightings.size(); ++k) {
                if (!question_.sightings[k].object && question_.sightings[k].value.type == Value::Type::date) continue;
                const double chance = chance_seen(candidate.holdings[k], question_.sightings[k].relation, conventions);
                candidate.fit *= question_.sightings[k].seen ? chance : 1 - chance;
            }
            sum += candidate.fit;
            left.push_back(std::move(candidate));
        }
        for (Candidate& candidate : left) candidate.fit = sum > 0 ? candidate.fit / sum : 0;
        std::sort(left.begin(), left.end(), [this](const Candidate& a, const Candidate& b) {
            return rounded_fit(a.fit) != rounded_fit(b.fit) ? a.fit > b.fit : snapshot_.key_of(a.thing.id) < snapshot_.key_of(b.thing.id);
        });
        std::sort(answer_.excluded.begin(), answer_.excluded.end(), [this](const Excluded& a, const Excluded& b) {
            return snapshot_.key_of(a.thing) < snapshot_.key_of(b.thing);
        });
        answer_.candidates = std::move(left);
        const bool one_left = answer_.candidates.size() == 1 && !answer_.excluded.empty();
        answer_.separates = one_left || (answer_.candidates.size() > 1 &&
                                         (answer_.candidates.front().fit - answer_.candidates.back().fit > alike * answer_.candidates.front().fit ||
                                          !answer_.excluded.empty()));
        if (answer_.candidates.empty()) answer_.separates = false;
    }

    // Where the candidates are narrow, the shape they point to may be surer than any of them.
    void sum_broader() {
        for (const Relation* relation : plan_.broader) {
            std::map<EntityId, double> sums;
            for (const Candidate& candidate : answer_.candidates)
                if (const auto broader = holdings_.belongs_to(candidate.thing, *relation)) sums[*broader] += candidate.fit;
            for (const auto& [thing, fit] : sums) answer_.broader.push_back({std::string(snapshot_.kind_of(thing)), thing, fit});
        }
        std::sort(answer_.broader.begin(), answer_.broader.end(), [this](const BroaderFit& a, const BroaderFit& b) {
            if (a.kind != b.kind) return a.kind < b.kind;
            return rounded_fit(a.fit) != rounded_fit(b.fit) ? a.fit > b.fit : snapshot_.key_of(a.thing) < snapshot_.key_of(b.thing);
        });
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    const IdentifyQuestion& question_;
    Privacy privacy_;
    DateWalker walker_;
    IdentifyPlan plan_;
    WayFinder finder_;
    HoldingReader holdings_;
    std::unordered_map<EntityId, std::size_t> place_;
    std::vector<MadeWindow> windows_;
    IdentifyAnswer answer_;
};

}  // namespace

IdentifyAnswer identify(const Snapshot& snapshot, Weigher& weigher, const IdentifyQuestion& question) {
    const auto& all = question.sightings;
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            const bool same = all[i].relation == all[k].relation && all[i].object == all[k].object && all[i].value == all[k].value;
            if (same && all[i].seen == all[k].seen) throw UsageFault("\"" + all[i].label + "\" is said twice, and would count twice", "leave one out");
            if (same) throw UsageFault("\"" + all[i].label + "\" is said to be seen and not to be there", "leave one out");
        }
    }
    return Identification(snapshot, weigher, question).run();
}

}  // namespace saggar
