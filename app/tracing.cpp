#include "app/tracing.h"

#include "app/session.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"

namespace saggar::app {

std::vector<Option> trace_options() {
    return {{"--to", "KEY", "where chains end"},
            {"--to-kind", "KIND", "chains end at things of this kind"},
            {"--via", "PATH", "which relations a chain may follow (else any)"},
            {"--best", "K", "how many chains (5)"},
            {"--during", "DATE", "only chains whose claims may all have held then"}};
}

TraceQuestion trace_question(const Call& call, const Snapshot& graph, const std::string& from) {
    TraceQuestion question;
    question.from = need_thing(call, graph, call.operand(from));
    if (call.has("--to")) question.to = need_thing(call, graph, call.get("--to"));
    question.to_kind = call.get("--to-kind");
    if (!question.to_kind.empty() && !graph.vocabulary().find_kind(question.to_kind)) {
        throw UsageFault("there is no kind " + question.to_kind +
                             Vocabulary::suggestion(graph.vocabulary().nearest_kind(question.to_kind)),
                         "see `saggar show vocabulary`");
    }
    if (call.has("--via")) {
        Problems problems;
        question.via = parse_path(call.get("--via"), graph.vocabulary(), problems);
        if (!question.via) {
            std::string text = to_text(problems.list().front());
            if (!text.empty() && text.back() == '\n') text.pop_back();
            throw UsageFault(text, "");
        }
    }
    question.during = call.get("--during");
    question.with_private = call.with_private;
    question.limits.best = call.count("--best", 5, 1, 1000);
    return question;
}

}  // namespace saggar::app
