#include <algorithm>
#include <filesystem>
#include <set>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/merging.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/weigher.h"
#include "queries/dispute_search.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

using Conflict = std::vector<ContentId>;

// Every conflict of a graph, private claims left out unless asked for.
std::set<Conflict> conflicts_of(const Snapshot& graph, const Call& call) {
    const Weigher weigher(graph);
    Privacy privacy(graph, call.with_private);
    std::set<Conflict> all;
    for (const Quarrel& quarrel : find_quarrels(graph, weigher.profile(), std::nullopt).found) {
        Conflict claims;
        for (const ClaimRef ref : quarrel.claims)
            if (privacy.may_show(ref)) claims.push_back(graph.content_of(ref));
        for (const TimeClash& clash : quarrel.clashes)
            for (const ClaimRef ref : clash.others)
                if (privacy.may_show(ref)) claims.push_back(graph.content_of(ref));
        std::sort(claims.begin(), claims.end());
        claims.erase(std::unique(claims.begin(), claims.end()), claims.end());
        if (!claims.empty()) all.insert(std::move(claims));
    }
    return all;
}

int run_merge(Call& call) {
    const std::filesystem::path path = call.operand("OTHER");
    std::error_code unknown;
    if (std::filesystem::equivalent(path, call.graph, unknown))
        throw UsageFault(path.string() + " is this graph itself", "name another graph folder, or a file written by `saggar export`");
    Store store = open_to_write(call);
    const auto theirs = TheirGraph::open(path);
    const ChangeHead head = change_head(call, store, "merge", theirs->name());
    MergeOptions options;
    options.author = head.author;
    options.time = head.time;
    options.with_private = call.with_private;
    options.dry_run = call.has("--dry-run");
    options.take_words = call.has("--take-words");
    if (call.has("--map")) options.choice = WordChoice::read(call.get("--map"));
    const auto before = store.snapshot();
    const MergeReport report = merge(store, *theirs, options);
    const auto after = store.snapshot();
    std::vector<Conflict> conflicts;
    if (report.first_entry) {
        const auto old_ones = conflicts_of(*before, call), new_ones = conflicts_of(*after, call);
        std::set_difference(new_ones.begin(), new_ones.end(), old_ones.begin(), old_ones.end(), std::back_inserter(conflicts));
    }
    const MergeTold told{report, theirs->name(), options.dry_run, *after, conflicts};
    if (call.json) {
        print(*call.out, merge_as_json(call, told));
    } else {
        write_merge(call, told);
    }
    return report.problems.any_error() ? trouble : fine;
}

}  // namespace

Verb merge_verb() {
    return {"merge",
            "join somebody else's graph to this one",
            {{"OTHER", "a graph folder, or a file written by `saggar export`"}},
            {{"--map", "FILE", "their words for ours: {\"relations\": {\"theirs\": \"ours\"}}; also kinds, grades, types, hedges"},
             {"--take-words", "", "add kinds and relations that are not known here to the vocabulary"},
             {"--dry-run", "", "say what would be new, and change nothing"}},
            run_merge,
            "Equal records are one, whoever took them down. Nothing is overwritten: what conflicts stands side by side and is listed "
            "by `saggar disputes`. Each of their entries that brings something becomes an entry here, by its author. Their private "
            "records are left out unless --with-private is given. Merging again changes nothing; all is taken or nothing. Of a record that "
            "one side took back, the history that went further holds.\nExit status 1: something could not be taken, and nothing was."};
}

}  // namespace saggar::app
