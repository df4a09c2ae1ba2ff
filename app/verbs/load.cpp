#include <fmt/format.h>

#include <filesystem>

#include "app/json_out.h"
#include "app/loading.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "importers/csvw/suggest.h"
#include "kg/model/fault.h"

namespace saggar::app {
namespace {

nlohmann::json problems_as_json(const Problems& problems) {
    nlohmann::json all = nlohmann::json::array();
    for (const Problem& problem : problems.list()) {
        all.push_back({{"id", problem.id},
                       {"severity", problem.severity == Severity::error ? "error" : "warning"},
                       {"file", problem.place.file},
                       {"line", problem.place.line},
                       {"column", problem.place.column},
                       {"text", problem.place.text},
                       {"message", problem.message},
                       {"next_step", problem.next_step}});
    }
    return all;
}

nlohmann::json result_as_json(const std::string& file, const LoadResult& result) {
    nlohmann::json one = {{"file", file},
                          {"errors", result.problems.errors()},
                          {"warnings", result.problems.warnings()},
                          {"problems", problems_as_json(result.problems)},
                          {"new", as_json(result.counts)}};
    if (result.entry) one["entry"] = result.entry;
    if (result.loaded_before) one["loaded_before"] = *result.loaded_before;
    return one;
}

void tell_of_file(const Call& call, const std::string& file, const LoadResult& result, bool dry_run) {
    write_problems(*call.err, result.problems);
    *call.out << file << ": ";
    const std::string counts = counts_in_words(result.counts);
    if (result.loaded_before) {
        *call.out << fmt::format("loaded before, as entry {}{}; nothing to do\n", *result.loaded_before,
                                 result.taken_back ? fmt::format(", of which {} {} withdrawn since", result.taken_back,
                                                                 result.taken_back == 1 ? "record was" : "records were")
                                                   : std::string());
    } else if (result.problems.any_error()) {
        *call.out << fmt::format("{} {}; nothing of this file was kept\n", result.problems.errors(),
                                 result.problems.errors() == 1 ? "error" : "errors");
    } else if (counts.empty() && !result.entry) {
        *call.out << "nothing new\n";
    } else if (dry_run) {
        *call.out << "would add " << counts << '\n';
    } else {
        *call.out << fmt::format("entry {}: {}\n", result.entry, counts.empty() ? "made public" : counts);
    }
}

// A first metadata document for each table, for the user to edit.
int suggest(const Call& call) {
    const Session session = open_to_read(call);
    bool all_fine = true;
    for (const std::string& file : call.all("FILE")) {
        Problems problems;
        TextInput input(file, open_file(file), problems);
        *call.out << csvw::suggest_metadata(input, std::filesystem::path(file).filename().string(), session.snapshot->vocabulary());
        write_problems(*call.err, problems);
        all_fine = all_fine && !problems.any_error();
    }
    if (all_fine)
        *call.err << "next: save it, check what is marked \"saggar:proposed\" and take the marks out where it is right,\n"
                     "    give other columns a propertyUrl (relation:NAME of `saggar show vocabulary`), then load with --map\n";
    return all_fine ? fine : trouble;
}

int run_load(Call& call) {
    if (call.has("--suggest")) return suggest(call);
    Store store = open_to_write(call);
    const bool dry_run = call.has("--dry-run");
    LoadJob job;
    job.dry_run = dry_run;
    job.options.source = call.get("--source");
    job.options.map = call.get("--map");
    if (call.has("--as")) {
        job.options.format = format_named(call.get("--as"));
        if (!job.options.format) {
            std::string known;
            for (const std::string& name : format_names()) known += (known.empty() ? "" : ", ") + name;
            throw UsageFault("there is no format \"" + call.get("--as") + "\"", "use one of: " + known);
        }
    }
    bool all_fine = true;
    nlohmann::json results = nlohmann::json::array();
    for (const std::string& file : call.all("FILE")) {
        job.path = file;
        const LoadResult result = load(store, call, job);
        all_fine = all_fine && !result.problems.any_error();
        if (call.json) {
            results.push_back(result_as_json(file, result));
        } else {
            tell_of_file(call, file, result, dry_run);
        }
    }
    if (call.json) print(*call.out, {{"files", results}, {"dry_run", dry_run}});
    return all_fine ? fine : trouble;
}

}  // namespace

Verb load_verb() {
    std::string formats;
    for (const std::string& name : format_names()) formats += (formats.empty() ? "" : ", ") + name;
    return {"load",
            "read files into the graph",
            {{"FILE", "files, or folders where the format is one of folders", true, true}},
            {{"--as", "FORMAT", "the format, where the file's name does not tell: " + formats},
             {"--map", "FILE", "metadata that says what a table's columns mean (W3C CSVW), or a mapping of terms"},
             {"--source", "KEY", "the source of what a file says, where it names none"},
             {"--suggest", "", "print first metadata for a table, from its header and data, to edit and give to --map"},
             {"--dry-run", "", "say what would be new, and change nothing"}},
            run_load,
            "Each file is taken whole or not at all. Loading a file again changes nothing.\nExit status 1: at least "
            "one file had errors."};
}

}  // namespace saggar::app
