#include <fmt/format.h>

#include "app/documents.h"
#include "app/json_out.h"
#include "app/loading.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/rule_sweep.h"
#include "queries/vocabulary_fit.h"

namespace saggar::app {
namespace {

int show_vocabulary(Call& call) {
    const std::string text = open_to_read(call).snapshot->vocabulary_text();
    if (call.json) {
        print(*call.out, nlohmann::json::parse(text));
    } else {
        *call.out << text << (text.empty() || text.back() == '\n' ? "" : "\n");
    }
    return fine;
}

nlohmann::json as_json(const std::vector<Misfit>& misfits) {
    nlohmann::json all = nlohmann::json::array();
    for (const Misfit& one : misfits)
        all.push_back({{"what", one.what}, {"count", one.count}, {"examples", one.examples}, {"next_step", one.next_step}});
    return all;
}

// In the graph stands what the vocabulary does not know: nothing is written.
int refuse(Call& call, const std::string& path, const std::vector<Misfit>& misfits) {
    if (call.json) {
        print(*call.out, {{"misfits", as_json(misfits)}});
        return trouble;
    }
    for (const Misfit& one : misfits) {
        *call.err << fmt::format("{}: error: {}: {} in the graph\n", path, one.what,
                                 one.count == 1 ? "1 record" : fmt::format("{} records", one.count));
        for (const std::string& example : one.examples) *call.err << "    " << example << '\n';
        *call.err << "    next: " << one.next_step << '\n';
    }
    *call.out << path << ": the graph does not fit this vocabulary; nothing was changed\n";
    return trouble;
}

void tell_words(std::ostream& out, const char* what, const std::vector<std::string>& words) {
    if (!words.empty()) out << "    " << what << ": " << fmt::format("{}", fmt::join(words, ", ")) << '\n';
}

int load_vocabulary(Call& call, const std::string& path) {
    const std::string text = document_text(path);
    if (!vocabulary_is_sound(call, text, path)) return trouble;
    Problems problems;
    const Vocabulary next = *Vocabulary::parse(text, problems, path);
    const auto rules = read_rules(text, next, problems, path);
    Store store = open_to_write(call);
    const auto graph = store.snapshot();
    const Vocabulary& now = graph->vocabulary();
    Privacy privacy(*graph, call.with_private);
    const std::vector<Misfit> misfits = misfits_of(*graph, next, privacy);
    if (!misfits.empty()) return refuse(call, path, misfits);

    const bool dry_run = call.has("--dry-run");
    const bool same = graph->vocabulary_text() == text;
    Change change = store.begin(change_head(call, store, "vocabulary", path));
    if (!same) change.put_document("vocabulary", text);
    const std::string title = fmt::format("{}, version {}", next.name(), next.version());
    const RuleSweep swept = sweep_rules(*graph, next, *rules, fmt::format("no rule of the vocabulary {} draws it", title), change);
    const bool nothing = same && swept.drawn + swept.withdrawn == 0;
    const std::uint64_t entry = dry_run || nothing ? 0 : change.commit().number;
    if (call.json) {
        print(*call.out, {{"entry", entry},
                          {"dry_run", dry_run},
                          {"misfits", as_json(misfits)},
                          {"arguments_drawn", swept.drawn},
                          {"arguments_withdrawn", swept.withdrawn}});
        return fine;
    }
    if (nothing) {
        *call.out << "the graph has this vocabulary already\n";
        return fine;
    }
    *call.out << (dry_run ? "would take" : fmt::format("entry {}: from now on", entry)) << " the vocabulary " << title << '\n';
    tell_words(*call.out, "new kinds", kinds_missing(now, next));
    tell_words(*call.out, "kinds left out", kinds_missing(next, now));
    tell_words(*call.out, "new relations", relations_missing(now, next));
    tell_words(*call.out, "relations left out", relations_missing(next, now));
    if (swept.drawn) *call.out << fmt::format("    arguments its rules draw from claims on file: {}\n", swept.drawn);
    if (swept.withdrawn) *call.out << fmt::format("    arguments its rules draw no more, withdrawn: {}\n", swept.withdrawn);
    return fine;
}

int run_vocabulary(Call& call) {
    const std::string action = call.operand("ACTION");
    const std::string file = call.operand("FILE");
    if (action == "show" && file.empty()) return show_vocabulary(call);
    if (action == "load" && !file.empty()) return load_vocabulary(call, file);
    throw UsageFault("the vocabulary can be shown or loaded",
                     "say `saggar vocabulary show` or `saggar vocabulary load FILE`");
}

}  // namespace

Verb vocabulary_verb() {
    return {"vocabulary",
            "show the vocabulary as a document, or load another one",
            {{"ACTION", "show or load"}, {"FILE", "of load: the document, as JSON", false}},
            {{"--dry-run", "", "say what load would change, and change nothing"}},
            run_vocabulary,
            "It says which kinds of things there are, how they may be related, and which rules draw conclusions. `saggar show\n"
            "vocabulary` lists the relations. To add to it: saggar vocabulary show > mine.json, edit it and its version,\n"
            "saggar vocabulary load mine.json.\n"
            "Every record in force must fit the new one, else nothing is changed. Its rules are applied to the claims on file:\n"
            "conclusions they draw are added with their arguments, arguments that they draw no more are withdrawn, and what a\n"
            "person withdrew stays withdrawn. Earlier answers, under the earlier vocabulary, can be asked again with --as-of."};
}

}  // namespace saggar::app
