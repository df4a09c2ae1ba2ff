#include "queries/privacy.h"
#include "queries/trace.h"

#include <fmt/format.h>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/notes.h"
#include "app/tracing.h"
#include "app/verbs/verbs.h"
#include "app/weighing.h"
#include "queries/statement.h"
#include "queries/trace_json.h"

namespace saggar::app {
namespace {

void write_chain(Call& call, const Snapshot& graph, const TraceChain& chain, std::size_t number, NoteList& notes) {
    *call.out << call.layout.strong(fmt::format("chain {}", number)) << "  "
              << wrap_with_tail(fmt::format("to {}, support {}", graph.label_of(chain.end()), figure_text(chain.support, 0)),
                                graph.key_of(chain.end()), call.layout, 10)
              << '\n';
    for (const TraceStep& shown : chain.steps) {
        const auto claim = graph.claim(shown.step.claim);
        if (!claim) continue;
        std::string marks;
        Privacy privacy(graph, call.with_private);
        for (const EvidenceRow& row : claim->evidence) {
            if (!privacy.may_show(row)) continue;
            marks +=
                fmt::format(" {}[{}]", row.stance == Stance::in_favour ? "for " : "against ", notes.number_of(row));
        }
        *call.out << "    "
                  << wrap_with_tail(
                         fmt::format("{}: {}{}", statement(graph, claim->claim), figure_text(shown.support, 0), marks),
                         "claim:" + claim->claim.id.brief(), call.layout, 6)
                  << '\n';
    }
    if (!chain.time.possible) *call.out << "    the claims of this chain cannot all have held at one time\n";
}

void write_together(Call& call, const Snapshot& graph, const TraceAnswer& answer) {
    const std::size_t count = answer.chains.size();
    *call.out << call.layout.strong("taken together") << "  that "
              << (count == 1 ? std::string("the one chain holds")
                             : fmt::format("at least one of the {} chains holds", count))
              << " (" << word_for(answer.joint->method) << ")\n";
    write_joint(call, graph, *answer.joint);
    if (answer.joint_all)
        *call.out << fmt::format(
            "    over {}: {}\n",
            answer.chains_all == 0 ? "all chains there are" : fmt::format("the best {} chains", answer.chains_all),
            figure_text(answer.joint_all->conditioned, answer.joint_all->half_width));
}

int run_trace(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    Weigher weigher(graph);
    const TraceAnswer answer = trace(graph, weigher, trace_question(call, graph, "FROM"));
    if (call.json) {
        print(*call.out, to_json(answer, graph, call.with_private));
        return answer.chains.empty() ? trouble : fine;
    }
    if (answer.chains.empty()) {
        *call.out << "no chain found: the record does not say; that is not evidence that there is none\n";
        return trouble;
    }
    NoteList notes(graph);
    for (std::size_t i = 0; i < answer.chains.size(); ++i) write_chain(call, graph, answer.chains[i], i + 1, notes);
    if (answer.more) *call.out << "there are more chains as good as the last; see them with --best N\n";
    if (!answer.complete) *call.out << "the search was cut off; there may be other chains\n";
    if (answer.joint) write_together(call, graph, answer);
    notes.write(*call.out, call.layout);
    return fine;
}

}  // namespace

Verb trace_verb() {
    return {"trace",
            "chains of claims from one thing to another, with their weight and citations",
            {{"FROM", "key of the thing to start from"}},
            trace_options(),
            run_trace,
            "PATH names the relations a chain may follow, in SPARQL 1.1 property-path syntax: a/b after each other, "
            "a|b either, ^a backwards,\n"
            "a* a+ a? repeated, !a any other, ( ) for grouping.\n"
            "Example: saggar trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+'\n"
            "Exit status 1: no chain found."};
}

}  // namespace saggar::app
