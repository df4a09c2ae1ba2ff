#include <fstream>
#include <sstream>

#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "queries/time_rules.h"

namespace saggar::app {
namespace {

std::string document_text(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + path, "see that the file is there");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

// What is wrong with the rest of the vocabulary the store says; its time rules are checked here, before there is a graph.
void check_time_rules(const std::string& text, const std::string& path) {
    Problems problems;
    if (const auto vocabulary = Vocabulary::parse(text, problems, path)) TimeRules::of(*vocabulary);
}

int run_start(Call& call) {
    Store::Beginning beginning;
    if (call.has("--vocabulary")) {
        beginning.vocabulary = document_text(call.get("--vocabulary"));
        check_time_rules(beginning.vocabulary, call.get("--vocabulary"));
    }
    if (call.has("--profile")) beginning.profile = document_text(call.get("--profile"));
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
