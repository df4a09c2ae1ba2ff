#include "importers/rdf/read_rdf.h"

#include "importers/rdf/mapped_records.h"
#include "importers/rdf/own_records.h"
#include "importers/rdf/scratch_folder.h"
#include "kg/model/key.h"

namespace saggar::rdf {

namespace {

std::optional<Mapping> mapping_for(const RdfFile& file, const Vocabulary& vocabulary, Problems& problems) {
    if (file.map.empty()) return Mapping::read(Mapping::default_document(), "default mapping", vocabulary, true, problems);
    const std::string document = TextInput(file.map.string(), open_file(file.map), problems).rest();
    if (problems.any_error()) return std::nullopt;
    return Mapping::read(document, file.map.string(), vocabulary, false, problems);
}

// The source of statements whose graph names none: what the user says, else the file.
Source source_of_file(const RdfFile& file) {
    Source source;
    source.key = file.default_source;
    if (!source.key.empty()) return source;
    const std::string name = file.path.filename().string();
    const std::string slug = slugify(name);
    source.key = "source:" + (slug.empty() ? std::string("rdf-file") : slug);
    source.title = name;
    return source;
}

}  // namespace

void read_rdf(const RdfFile& file, const ReadContext& context, Sink& sink) {
    Problems& problems = file.input.problems();
    const auto mapping = mapping_for(file, context.vocabulary, problems);
    if (!mapping) return;
    const ScratchFolder scratch;
    const SourceLines lines(file.input.name(), file.open);
    OwnRecords own(scratch.path());
    MappedRecords mapped(scratch.path(), *mapping, context, source_of_file(file));
    Problems found;
    read_quads(
        file.input, {file.syntax, ""},
        [&](const Quad& quad, const Spot& spot) {
            if (OwnRecords::takes(quad)) own.add(quad, spot);
            if (!OwnRecords::takes_alone(quad)) mapped.add(quad, spot);
        },
        found);
    for (Problem problem : found.list()) {
        problem.place = lines.place({problem.place.line, problem.place.column}, problem.place.text);
        problems.add(std::move(problem));
    }
    if (problems.any_error()) return;
    own.put(lines, sink, problems);
    mapped.put(lines, sink, problems);
}

std::optional<std::string> vocabulary_in(const std::filesystem::path& path, Syntax syntax) {
    Problems untold(0);
    TextInput input(path.string(), open_file(path), untold);
    return own_document(input, syntax, "vocabulary");
}

}  // namespace saggar::rdf
