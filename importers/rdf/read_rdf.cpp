#include "importers/rdf/read_rdf.h"

#include "importers/rdf/own_records.h"
#include "importers/rdf/scratch_folder.h"

namespace saggar::rdf {

void read_rdf(const RdfFile& file, const ReadContext&, Sink& sink) {
    Problems& problems = file.input.problems();
    const ScratchFolder scratch;
    const SourceLines lines(file.input.name(), file.open);
    OwnRecords own(scratch.path());
    Problems found;
    read_quads(
        file.input, {file.syntax, ""},
        [&](const Quad& quad, const Spot& spot) {
            if (OwnRecords::takes(quad)) own.add(quad, spot);
        },
        found);
    for (Problem problem : found.list()) {
        problem.place = lines.place({problem.place.line, problem.place.column});
        problems.add(std::move(problem));
    }
    if (problems.any_error()) return;
    own.put(lines, sink, problems);
}

std::optional<std::string> vocabulary_in(const std::filesystem::path& path, Syntax syntax) {
    Problems untold(0);
    TextInput input(path.string(), open_file(path), untold);
    return own_document(input, syntax, "vocabulary");
}

}  // namespace saggar::rdf
