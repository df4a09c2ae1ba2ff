#include <fmt/format.h>

#include <array>

#include "app/json_out.h"
#include "app/loading.h"
#include "app/session.h"
#include "app/text/folding.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"

namespace saggar::app {
namespace {

// Options that are columns of a claims table (importers/FORMATS.md); a note is a table of one row.
constexpr std::array<std::pair<const char*, const char*>, 16> columns = {{
    {"--stance", "for (default), against, lists-all, silent, argued, argued-against"},
    {"--when", "the time for which it is claimed"},
    {"--scope", "key of the line or market for which it is claimed"},
    {"--source", "key of the source"},
    {"--at", "where in the source: page=12, xywh=…, t=…"},
    {"--quote", "the words of the source"},
    {"--certainty", "the author's own: a hedge word or a number 0..1"},
    {"--reading", "direct (default) or indirect"},
    {"--mention", "with silent: the chance that the source would have mentioned it"},
    {"--completeness", "with lists-all: how complete the list is"},
    {"--corrects", "the reading of the same author that this takes back"},
    {"--premises", "with argued: claims joined by ' + '"},
    {"--strength", "with argued: 0..1"},
    {"--reason", "with argued: why"},
    {"--recorded-on", "when it was taken down"},
    {"--remark", "your own remark"},
}};

std::string cell(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string column_name(std::string option) {
    option.erase(0, 2);
    for (char& c : option)
        if (c == '-') c = '_';
    return option;
}

std::string table_of(const Call& call) {
    std::string head = "subject,relation,object";
    std::string row =
        cell(call.operand("SUBJECT")) + "," + cell(call.operand("RELATION")) + "," + cell(call.operand("OBJECT"));
    for (const auto& [option, help] : columns) {
        if (!call.has(option)) continue;
        head += "," + column_name(option);
        row += "," + cell(call.get(option));
    }
    if (call.has("--private")) {
        head += ",private";
        row += ",yes";
    }
    return head + "\n" + row + "\n";
}

int run_note(Call& call) {
    Store store = open_to_write(call);
    LoadJob job;
    job.bytes = table_of(call);
    job.path = "note";
    job.options.format = Format::table;
    job.verb = "note";
    job.reason = call.operand("SUBJECT") + " " + call.operand("RELATION") + " " + call.operand("OBJECT");
    if (call.has("--private")) job.reason = "private";
    job.dry_run = call.has("--dry-run");
    const LoadResult result = load(store, call, job);
    for (const Problem& problem : result.problems.list()) {
        *call.err << "saggar: " << problem.message << " [" << problem.id << "]\n";
        if (!problem.next_step.empty()) tell(*call.err, "    next: " + problem.next_step);
    }
    if (result.problems.any_error()) return trouble;
    const std::string counts = counts_in_words(result.counts);
    if (call.json) {
        print(*call.out, {{"entry", result.entry}, {"new", counts}, {"dry_run", job.dry_run}});
    } else if (counts.empty() && result.entry) {
        *call.out << fmt::format("entry {}: made public\n", result.entry);
    } else if (counts.empty()) {
        *call.out << "nothing new\n";
    } else if (job.dry_run) {
        *call.out << "would add " << counts << '\n';
    } else {
        *call.out << fmt::format("entry {}: {}\n", result.entry, counts);
    }
    return fine;
}

}  // namespace

Verb note_verb() {
    std::vector<Option> options;
    for (const auto& [option, help] : columns) options.push_back({option, "TEXT", help});
    options.push_back({"--private", "", "keep it out of exports and of what is published"});
    options.push_back({"--dry-run", "", "say what would be new, and change nothing"});
    return {"note",
            "take down one claim with its evidence",
            {{"SUBJECT", "key of what the claim is about"},
             {"RELATION", "name of the relation; see `saggar show vocabulary`"},
             {"OBJECT", "key, text, number with unit, or date", false}},
            options,
            run_note,
            "Example: saggar note line:northern commissioned-by company:northern-provident --source source:memo-12 "
            "--at page=2 "
            "--quote \"for the Northern people\" --certainty probably"};
}

}  // namespace saggar::app
