#include "viz/dossier/dossier.h"

#include <fmt/format.h>

#include <filesystem>
#include <sstream>

#include "app/drawing.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "app/whole_file.h"
#include "importers/csl_write.h"
#include "kg/model/fault.h"
#include "kg/weigh/weigher.h"

namespace saggar::app {
namespace {

namespace fs = std::filesystem;

// A folder that is new, empty, or holds an earlier dossier; anything else is not written into.
void need_folder(const fs::path& folder) {
    std::error_code error;
    fs::create_directories(folder / "pictures", error);
    if (error)
        throw UsageFault(fmt::format("the folder {} cannot be made: {}", folder.string(), error.message()),
                         "name a folder you may write to");
}

void refuse_foreign_folder(const fs::path& folder) {
    std::error_code error;
    if (!fs::exists(folder, error)) return;
    if (!fs::is_directory(folder, error))
        throw UsageFault(folder.string() + " is no folder", "name a folder with --output");
    if (!fs::is_empty(folder, error) && !fs::exists(folder / "dossier.md", error)) {
        throw UsageFault(folder.string() + " holds other things than a dossier", "name a new folder with --output");
    }
}

std::string as_csl_json(const std::vector<Source>& sources) {
    std::ostringstream out;
    CslWriter writer(out);
    for (const auto& source : sources) writer.put(source);
    writer.finish();
    return out.str();
}

int run_dossier(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const EntityId thing = need_thing(call, graph, call.operand("KEY"));
    std::string name = call.operand("KEY");
    name.replace(name.find(':'), 1, "-");
    const fs::path folder = call.get("--output", "dossier-" + name);
    refuse_foreign_folder(folder);
    Weigher weigher(graph);
    viz::DossierOptions options;
    options.with_private = call.with_private;
    options.as_of = call.as_of;
    const auto dossier = viz::gather_dossier(graph, weigher, thing, options);
    const auto files = viz::dossier_files(dossier, as_csl_json(viz::dossier_records(dossier)));
    need_folder(folder);
    for (const auto& [path, bytes] : files) write_whole((folder / path).string(), bytes, *call.out);
    *call.err << fmt::format("{}: {} notes, {} sources, {} pictures\n", (folder / "index.html").string(),
                             dossier.notes.size(), dossier.sources.size(), dossier.pictures.size());
    return dossier.sections.empty() ? trouble : fine;
}

}  // namespace

Verb dossier_verb() {
    return {
        "dossier",
        "everything known about one thing as a page and a text with footnotes",
        {{"KEY", "the thing: a shape, line, treatment, person, company, piece"}},
        {{"-o,--output", "DIR", "folder to write into (dossier-KIND-NAME)"}},
        run_dossier,
        "The folder holds index.html (needs nothing else), dossier.md with sources.json for pandoc, and the pictures.\n"
        "For a word-processor file: cd DIR && pandoc dossier.md --citeproc -o dossier.docx\n"
        "Private records are left out unless --with-private is given; --as-of says which state of the record it speaks "
        "for.\n"
        "Exit status 1: nothing is recorded about the thing."};
}

}  // namespace saggar::app
