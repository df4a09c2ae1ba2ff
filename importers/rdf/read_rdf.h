// RDF into records: our own export as it was, everything else through a mapping (mapping.h).
//
// Memory stays constant whatever the file's size: statements are gathered in sorted runs on disk, in a scratch folder (TMPDIR). Limits: brackets
// 64 deep, a term of 4 MiB, 10 000 statements about one node that the mapping has to see together.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "importers/claim_rows.h"
#include "importers/rdf/quad_reader.h"
#include "importers/rdf/source_lines.h"

namespace saggar::rdf {

struct RdfFile {
    TextInput& input;
    Syntax syntax = Syntax::turtle;
    std::filesystem::path path;
    SourceLines::Open open;       // the same bytes once more, to show the line of a problem
    std::filesystem::path map;    // empty: the default mapping
    std::string default_source;   // key of the source of statements whose graph names none; empty: the file itself
};

// Problems (ids rdf-...) are in the input's collection. UsageFault where the mapping cannot be opened.
void read_rdf(const RdfFile& file, const ReadContext& context, Sink& sink);

// The vocabulary that one of our exports brings; nothing for other files.
std::optional<std::string> vocabulary_in(const std::filesystem::path& path, Syntax syntax);

}  // namespace saggar::rdf
