#include "queries/run_relation.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "kg/model/fault.h"

namespace saggar {

namespace {

DatingAnswer date_run(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules, EntityId thing,
                      DatingQuestion question) {
    question.thing = thing;
    DatingAnswer answer = date_thing(snapshot, weigher, rules, question);
    if (answer.run_start.empty()) {
        throw UsageFault(fmt::format("things of kind \"{}\" have no run in this vocabulary", snapshot.kind_of(thing)),
                         "add one under \"runs\" in its time rules");
    }
    return answer;
}

bool is_dated(const time::Bounds& run) {
    return !time::is_limit(run.earliest_start.day) || !time::is_limit(run.latest_start.day) ||
           !time::is_limit(run.earliest_end.day) || !time::is_limit(run.latest_end.day);
}

nlohmann::json run_of(const DatingAnswer& answer, const Snapshot& snapshot) {
    const auto day = [](const time::Bound& bound) {
        return time::is_limit(bound.day) ? nlohmann::json(nullptr) : nlohmann::json(time::to_text(bound.day));
    };
    return {{"key", snapshot.key_of(answer.thing)},
            {"start", answer.run_start},
            {"end", answer.run_end},
            {"earliest_start", day(answer.run.earliest_start)},
            {"latest_start", day(answer.run.latest_start)},
            {"earliest_end", day(answer.run.earliest_end)},
            {"latest_end", day(answer.run.latest_end)},
            {"contradictions", answer.contradictions.size()}};
}

}  // namespace

RunRelation relate_runs(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules, EntityId a, EntityId b,
                        const DatingQuestion& question) {
    RunRelation relation{
        date_run(snapshot, weigher, rules, a, question), date_run(snapshot, weigher, rules, b, question), {}, false};
    relation.possible = time::possible_relations(relation.a.run, relation.b.run);
    relation.known = is_dated(relation.a.run) && is_dated(relation.b.run);
    return relation;
}

std::string run_relation_words(const Snapshot& snapshot, const RunRelation& relation) {
    const std::string a = snapshot.label_of(relation.a.thing), b = snapshot.label_of(relation.b.thing);
    if (relation.possible == time::AllenSet::all())
        return fmt::format("nothing is known of how {} and {} lie in time", a, b);
    return fmt::format("{} {} {}", a, time::to_words(relation.possible), b);
}

nlohmann::json to_json(const RunRelation& relation, const Snapshot& snapshot) {
    nlohmann::json possible = nlohmann::json::array();
    for (int i = 0; i < time::allen_count; ++i) {
        const auto one = static_cast<time::Allen>(i);
        if (relation.possible.contains(one)) possible.push_back(std::string(time::name_of(one)));
    }
    return {{"a", run_of(relation.a, snapshot)},
            {"b", run_of(relation.b, snapshot)},
            {"possible", std::move(possible)},
            {"words", run_relation_words(snapshot, relation)},
            {"known", relation.known}};
}

}  // namespace saggar
