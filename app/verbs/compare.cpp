#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
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

int run_compare(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const std::vector<std::string> keys = call.all("KEY");
    if (!call.has("--time")) throw UsageFault("things can be compared in time", "add --time");
    if (keys.size() != 2)
        throw UsageFault("two runs are compared in time, not " + std::to_string(keys.size()), "name two things");
    Weigher weigher(graph);
    const TimeRules rules = TimeRules::of(graph.vocabulary());
    DatingQuestion question;
    question.with_private = call.with_private;
    question.least_support = call.number("--least", question.least_support, 0, 1);
    const RunRelation relation = relate_runs(graph, weigher, rules, need_thing(call, graph, keys[0]), need_thing(call, graph, keys[1]), question);
    if (call.json) {
        print(*call.out, to_json(relation, graph));
        return relation.known ? fine : trouble;
    }
    *call.out << call.layout.strong(run_relation_words(graph, relation)) << '\n';
    write_run(call, graph, relation.a);
    write_run(call, graph, relation.b);
    return relation.known ? fine : trouble;
}

}  // namespace

Verb compare_verb() {
    return {"compare",
            "how the runs of two things lie to each other in time",
            {{"KEY", "two things that have a run: shapes, lines, treatments, marks, people", true, true}},
            {{"--time", "", "compare runs by Allen's thirteen relations (1983)"},
             {"--least", "N", "claims supported less than this do not bind (usually 0.25; a convention)"}},
            run_compare,
            "\"certainly before\" is said only where nothing else can be. Exit status 1: one of the two is not dated."};
}

}  // namespace saggar::app
