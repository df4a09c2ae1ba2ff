#include "queries/compare.h"

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/caution.h"
#include "app/text/comparing.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/compare_json.h"
#include "queries/run_relation.h"

namespace saggar::app {
namespace {

std::string ends_in_words(time::Day earliest, time::Day latest) {
    const auto day = [](time::Day one) { return time::is_limit(one) ? std::string("?") : time::to_text(one); };
    return earliest == latest ? day(earliest) : day(earliest) + " to " + day(latest);
}

void write_run(Call& call, const Snapshot& graph, const DatingAnswer& answer) {
    *call.out << "    " << graph.label_of(answer.thing) << ": begins "
              << ends_in_words(answer.run.earliest_start.day, answer.run.latest_start.day) << ", ends "
              << ends_in_words(answer.run.earliest_end.day, answer.run.latest_end.day) << '\n';
    if (!answer.contradictions.empty())
        *call.out << "        some of its dates cannot all hold; see `saggar date " << graph.key_of(answer.thing)
                  << "`\n";
}

void write_time(Call& call, const Snapshot& graph, const RunRelation& relation) {
    *call.out << call.layout.strong(run_relation_words(graph, relation)) << '\n';
    write_run(call, graph, relation.a);
    write_run(call, graph, relation.b);
}

RunRelation in_time(const Call& call, const Snapshot& graph, Weigher& weigher, const TimeRules& rules, EntityId a, EntityId b) {
    DatingQuestion question;
    question.with_private = call.with_private;
    question.least_support = call.number("--least", question.least_support, 0, 1);
    return relate_runs(graph, weigher, rules, a, b, question);
}

int only_time(Call& call, const Snapshot& graph, const std::vector<EntityId>& things) {
    if (things.size() != 2)
        throw UsageFault("two runs are compared in time, not " + std::to_string(things.size()), "name two things");
    Weigher weigher(graph);
    const RunRelation relation = in_time(call, graph, weigher, TimeRules::of(graph.vocabulary()), things[0], things[1]);
    if (call.json) {
        print(*call.out, to_json(relation, graph));
    } else {
        write_time(call, graph, relation);
    }
    return relation.known ? fine : trouble;
}

int run_compare(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    CompareQuestion question;
    for (const std::string& key : call.all("KEY")) question.things.push_back(need_thing(call, graph, key));
    if (call.has("--time")) return only_time(call, graph, question.things);
    question.relations = call.all("--relation");
    question.with_private = call.with_private;
    question.figures = call.json;
    if (call.has("--supported")) question.supported = call.number("--supported", .5, .5, 1);
    const std::size_t most = call.count("--most", question.relations.empty() ? 5 : 60, 1, 1'000'000);
    Weigher weigher(graph);
    const CompareAnswer answer = compare(graph, weigher, question);
    // How two things lie in time; where either has no run, or is not dated, there is nothing to say of it.
    std::optional<RunRelation> relation;
    if (answer.things.size() == 2 && question.relations.empty()) {
        const TimeRules rules = TimeRules::of(graph.vocabulary());
        const auto has_run = [&](const NamedThing& thing) { return rules.run_of(graph.kind_of(thing.id)) != nullptr; };
        if (std::all_of(answer.things.begin(), answer.things.end(), has_run))
            relation = in_time(call, graph, weigher, rules, answer.things[0].id, answer.things[1].id);
        if (relation && !relation->known) relation.reset();
    }
    const bool said = !answer.relations.empty() || relation;
    if (call.json) {
        nlohmann::json out = to_json(answer, graph, call.with_private);
        out["time"] = relation ? to_json(*relation, graph) : nlohmann::json(nullptr);
        print(*call.out, out);
        return said ? fine : trouble;
    }
    NoteList notes(graph);
    write_comparison(call, graph, answer, most, !question.relations.empty(), notes);
    if (relation) write_time(call, graph, *relation);
    const bool flagged = std::any_of(answer.relations.begin(), answer.relations.end(), [](const ComparedRelation& one) {
        return std::any_of(one.objects.begin(), one.objects.end(), [](const ComparedObject& object) { return object.flagged; });
    });
    if (flagged) write_caution(call);
    notes.write(*call.out, call.layout);
    return said ? fine : trouble;
}

}  // namespace

Verb compare_verb() {
    return {"compare",
            "what things share, what only some have, what none ever had, what is not known",
            {{"KEY", "two things or more of which the same can be said: shapes, lines, items, treatments, people", true, true}},
            {{"--relation", "NAME", "only this relation, or backwards by its inverse name", true},
             {"--supported", "P", "what counts as supported, .5 to 1 (usually the profile's; a convention)"},
             {"--most", "N", "how many are named in a row (5; with --relation 60)"},
             {"--time", "", "only how two runs lie in time, by Allen's thirteen relations (1983)"},
             {"--least", "N", "claims supported less than this date nothing (usually 0.25; a convention)"}},
            run_compare,
            "\"never\" is said only where it is denied, or where a list of everything leaves it out; \"not known\" is no evidence either way.\n"
            "\"certainly before\" is said only where nothing else can be. Exit status 1: nothing can be said; with --time: one of the two "
            "is not dated."};
}

}  // namespace saggar::app
