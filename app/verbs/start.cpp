#include "app/documents.h"
#include "app/session.h"
#include "app/verbs/verbs.h"

namespace saggar::app {
namespace {

int run_start(Call& call) {
    Store::Beginning beginning;
    if (call.has("--vocabulary")) {
        beginning.vocabulary = document_text(call.get("--vocabulary"));
        if (!vocabulary_is_sound(call, beginning.vocabulary, call.get("--vocabulary"))) return trouble;
    }
    if (call.has("--profile")) {
        beginning.profile = document_text(call.get("--profile"));
        if (!profile_is_sound(call, beginning.profile, call.get("--profile"))) return trouble;
    }
    beginning.author = call.author;
    beginning.time = now();
    const Store store = Store::create(call.graph, beginning);
    *call.out << "made an empty graph in " << call.graph << '\n';
    if (call.author.empty()) *call.out << "    its changes are not signed; sign them with --author NAME\n";
    return fine;
}

}  // namespace

Verb start_verb() {
    return {"start",
            "make an empty graph",
            {},
            {{"--vocabulary", "FILE", "kinds and relations, as JSON (else those for tableware)"},
             {"--profile", "FILE", "weighing conventions, as JSON (else the defaults)"}},
            run_start,
            "The author given with --author signs every later change of this graph."};
}

}  // namespace saggar::app
