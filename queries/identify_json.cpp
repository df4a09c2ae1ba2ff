#include "queries/identify_json.h"

#include <nlohmann/json.hpp>

#include "kg/weigh/profile.h"
#include "queries/cell_citation_json.h"

namespace saggar {

namespace {

using nlohmann::json;

json ids(const std::vector<ClaimRef>& claims, const Snapshot& snapshot) {
    json out = json::array();
    for (const ClaimRef claim : claims) out.push_back(snapshot.content_of(claim).full());
    return out;
}

json holding_of(const Holding& holding, std::size_t sighting, const Snapshot& snapshot) {
    return {{"sighting", sighting},
            {"has", holding.has},
            {"never", holding.never},
            {"both", holding.both},
            {"claims", ids(holding.claims, snapshot)},
            {"denied", ids(holding.denied, snapshot)},
            {"for", to_json(holding.cited_for, snapshot)},
            {"against", to_json(holding.cited_against, snapshot)}};
}

json fits(const std::vector<std::pair<EntityId, double>>& all, const Snapshot& snapshot) {
    json out = json::array();
    for (const auto& [thing, fit] : all) out.push_back({{"key", snapshot.key_of(thing)}, {"label", snapshot.label_of(thing)}, {"fit", fit}});
    return out;
}

json day(time::Day one) { return time::is_limit(one) ? json(nullptr) : json(time::to_text(one)); }

json excluded_of(const Excluded& one, const Snapshot& snapshot) {
    json out = {{"key", snapshot.key_of(one.thing)}, {"label", snapshot.label_of(one.thing)}, {"holding", nullptr}, {"dates", nullptr}};
    if (one.sighting) {
        out["holding"] = holding_of(one.holding, *one.sighting, snapshot);
    } else {
        out["dates"] = {{"earliest", day(one.window.earliest)},
                        {"latest", day(one.window.latest)},
                        {"earliest_because", ids(one.window.earliest_claims, snapshot)},
                        {"latest_because", ids(one.window.latest_claims, snapshot)}};
    }
    return out;
}

}  // namespace

json to_json(const IdentifyAnswer& answer, const IdentifyQuestion& question, const Snapshot& snapshot, const Profile& profile,
             std::size_t most) {
    json sightings = json::array(), candidates = json::array(), excluded = json::array(), broader = json::array(), next = json::array();
    for (const Sighting& one : question.sightings)
        sightings.push_back({{"seen", one.seen},
                             {"relation", one.relation},
                             {"object", one.object ? snapshot.key_of(one.object) : one.value.text},
                             {"label", one.label}});
    for (std::size_t i = 0; i < answer.candidates.size() && i < most; ++i) {
        const Candidate& candidate = answer.candidates[i];
        json holdings = json::array(), also = json::array();
        for (std::size_t k = 0; k < candidate.holdings.size(); ++k)
            if (candidate.holdings[k].says_something()) holdings.push_back(holding_of(candidate.holdings[k], k, snapshot));
        for (std::size_t k = 1; k < candidate.thing.names.size(); ++k) also.push_back(snapshot.key_of(candidate.thing.names[k]));
        candidates.push_back({{"key", snapshot.key_of(candidate.thing.id)},
                              {"label", snapshot.label_of(candidate.thing.id)},
                              {"also", std::move(also)},
                              {"fit", candidate.fit},
                              {"holdings", std::move(holdings)}});
    }
    for (const Excluded& one : answer.excluded) excluded.push_back(excluded_of(one, snapshot));
    for (const BroaderFit& one : answer.broader)
        broader.push_back({{"kind", one.kind}, {"key", snapshot.key_of(one.thing)}, {"label", snapshot.label_of(one.thing)}, {"fit", one.fit}});
    for (const NextLook& one : answer.next)
        next.push_back({{"relation", one.relation},
                        {"object", snapshot.key_of(one.object)},
                        {"label", snapshot.label_of(one.object)},
                        {"gain", one.gain},
                        {"chance", one.chance},
                        {"if_there", fits(one.if_there, snapshot)},
                        {"if_not", fits(one.if_not, snapshot)}});
    json shown = json::object();
    for (const auto& [relation, chance] : profile.identifying.shown) shown[relation] = chance;
    return {{"kind", answer.kind},
            {"sightings", std::move(sightings)},
            {"can_say", answer.separates},
            {"candidates", std::move(candidates)},
            {"candidates_all", answer.candidates.size()},
            {"excluded", std::move(excluded)},
            {"broader", std::move(broader)},
            {"next", std::move(next)},
            {"compared_next", answer.compared_next},
            {"complete", answer.complete},
            {"times_clash", answer.times_clash},
            {"dates_seen", {{"earliest", day(answer.earliest)}, {"latest", day(answer.latest)}}},
            {"conventions",
             {{"profile", answer.profile},
              {"unknown", profile.identifying.unknown},
              {"mistaken", profile.identifying.mistaken},
              {"shown", std::move(shown)},
              {"shown_otherwise", profile.identifying.shown_otherwise},
              {"supported", profile.supported}}},
            {"not_an_appraisal", true}};
}

}  // namespace saggar
