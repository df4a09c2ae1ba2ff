#include "queries/find.h"

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"

namespace saggar::app {
namespace {

int run_find(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    std::string words;
    for (const std::string& word : call.all("WORDS")) words += (words.empty() ? "" : " ") + word;
    FindOptions options;
    options.kind = call.get("--kind");
    if (!options.kind.empty() && !graph.vocabulary().find_kind(options.kind))
        throw UsageFault("unknown kind \"" + options.kind + "\"" + Vocabulary::suggestion(graph.vocabulary().nearest_kind(options.kind)),
                         "see `saggar show vocabulary` for the kinds");
    options.source = call.get("--source");
    options.with_private = call.with_private;
    options.most = call.count("--most", 20, 1, 10'000);
    const FindAnswer answer = find(graph, words, options);
    if (call.json) {
        nlohmann::json hits = nlohmann::json::array();
        for (const FindHit& hit : answer.hits) {
            nlohmann::json one = {{"key", graph.key_of(hit.entity)},
                                  {"label", graph.label_of(hit.entity)},
                                  {"field", hit.field},
                                  {"text", hit.snippet}};
            if (hit.claim) one["claim"] = graph.content_of(hit.claim).full();
            hits.push_back(std::move(one));
        }
        print(*call.out, {{"words", words}, {"found", answer.found}, {"more_unread", answer.more_unread}, {"hits", hits}, {"taken", answer.taken}});
        return answer.hits.empty() ? trouble : fine;
    }
    for (const std::string& taken : answer.taken) *call.out << taken << '\n';
    if (answer.hits.empty()) {
        *call.out << "nothing found\n";
        return trouble;
    }
    std::vector<std::vector<std::string>> rows = {{"key", "name", "found in"}};
    for (const FindHit& hit : answer.hits) {
        const std::string label = graph.label_of(hit.entity);
        rows.push_back({graph.key_of(hit.entity), label,
                        hit.snippet == label ? hit.field : hit.field + ": " + one_line(hit.snippet, 60)});
    }
    *call.out << table(rows, call.layout);
    if (answer.more_unread)
        *call.out << "many more; give a longer word, or see them with --most N\n";
    else if (answer.found > answer.hits.size())
        *call.out << answer.found - answer.hits.size() << " more; see them with --most N\n";
    return fine;
}

}  // namespace

Verb find_verb() {
    return {"find",
            "look for things by words",
            {{"WORDS", "words; case, accents and endings do not matter", true, true}},
            {{"--kind", "KIND", "only things of this kind"},
             {"--source", "KEY", "only words of this source's evidence"},
             {"--most", "N", "how many to show (20)"}},
            run_find,
            "All words must occur in one thing; a word also finds those it begins, and where it finds none, words that differ from it by a\n"
            "sign or two, never numbers. \"A123\" finds \"A.123\", \"artdeco\" finds \"Art-Déco\", and the other way round."};
}

}  // namespace saggar::app
