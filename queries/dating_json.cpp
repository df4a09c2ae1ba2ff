#include "queries/dating_json.h"

#include <nlohmann/json.hpp>

#include "queries/statement.h"

namespace saggar {

namespace {

using nlohmann::json;

json day_or_null(time::Day day) { return time::is_limit(day) ? json(nullptr) : json(time::to_text(day)); }

json ids_of(const std::vector<ClaimRef>& claims, const Snapshot& snapshot) {
    json out = json::array();
    for (const ClaimRef claim : claims) out.push_back(snapshot.content_of(claim).full());
    return out;
}

json weighed(const WeighedClaim& one, const Snapshot& snapshot) {
    const auto claim = snapshot.claim(one.claim);
    return {{"claim", snapshot.content_of(one.claim).full()},
            {"statement", claim ? statement(snapshot, claim->claim) : std::string()},
            {"support", one.support}};
}

json step_of(const DatingStep& step, const Snapshot& snapshot) {
    return {{"of", snapshot.key_of(step.thing)},       {"point", step.point}, {"date", day_or_null(step.day)},
            {"claims", ids_of(step.claims, snapshot)}, {"rule", step.rule},   {"slack_months", step.slack_months}};
}

json bound_of(const DatingBound& bound, const std::string& point, const Snapshot& snapshot) {
    json steps = json::array();
    for (const DatingStep& step : bound.steps) steps.push_back(step_of(step, snapshot));
    return {{"side", bound.is_earliest ? "earliest" : "latest"},
            {"point", point},
            {"date", day_or_null(bound.day)},
            {"binds", bound.binds},
            {"because", ids_of(bound.because, snapshot)},
            {"steps", std::move(steps)}};
}

json contradiction_of(const DatingContradiction& contradiction, const Snapshot& snapshot) {
    json claims = json::array();
    for (const WeighedClaim& one : contradiction.claims) claims.push_back(weighed(one, snapshot));
    return {{"claims", std::move(claims)}, {"set_aside", snapshot.content_of(contradiction.set_aside).full()}};
}

json years_of(const DatingYears& years) {
    json out = json::array();
    for (const DatingYear& year : years.years) {
        out.push_back({{"year", year.year}, {"possible", year.possible}, {"supported", year.supported}});
    }
    return out;
}

}  // namespace

json to_json(const DatingAnswer& answer, const DatingYears& years, const Snapshot& snapshot) {
    json points = json::array(), bounds = json::array(), contradictions = json::array(), weak = json::array(),
         struck = json::array();
    for (const DatedPoint& point : answer.points) {
        points.push_back({{"point", point.point},
                          {"label", point.label},
                          {"earliest", day_or_null(point.earliest)},
                          {"latest", day_or_null(point.latest)}});
        for (const DatingBound& bound : point.bounds) bounds.push_back(bound_of(bound, point.point, snapshot));
    }
    for (const auto& one : answer.contradictions) contradictions.push_back(contradiction_of(one, snapshot));
    for (const auto& one : answer.too_weak) weak.push_back(weighed(one, snapshot));
    for (const DatingStruck& one : answer.struck) {
        struck.push_back(
            {{"claim", snapshot.content_of(one.claim).full()}, {"because", ids_of(one.because, snapshot)}});
    }
    json first = nullptr;
    if (!answer.contradictions.empty()) {
        first = json::array();
        for (const auto& one : answer.contradictions.front().claims)
            first.push_back(snapshot.content_of(one.claim).full());
    }
    return {{"key", snapshot.key_of(answer.thing)},
            {"earliest", day_or_null(answer.run.earliest_start.day)},
            {"latest", day_or_null(answer.run.latest_end.day)},
            {"run",
             {{"start", answer.run_start},
              {"end", answer.run_end},
              {"earliest_start", day_or_null(answer.run.earliest_start.day)},
              {"latest_start", day_or_null(answer.run.latest_start.day)},
              {"earliest_end", day_or_null(answer.run.earliest_end.day)},
              {"latest_end", day_or_null(answer.run.latest_end.day)}}},
            {"points", std::move(points)},
            {"bounds", std::move(bounds)},
            {"contradiction", std::move(first)},
            {"contradictions", std::move(contradictions)},
            {"too_weak", std::move(weak)},
            {"struck", std::move(struck)},
            {"least_support", answer.least_support},
            {"limits", answer.limits},
            {"complete", answer.complete},
            {"years", years_of(years)},
            {"years_contradiction", years.contradiction},
            {"years_method", word_for(years.method)},
            {"years_half_width", years.half_width},
            {"years_complete", years.complete},
            {"profile", years.profile}};
}

}  // namespace saggar
