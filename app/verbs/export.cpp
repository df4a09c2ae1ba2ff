#include <fmt/format.h>

#include <algorithm>

#include "app/bag_export.h"
#include "app/line_export.h"
#include "app/rdf_export.h"
#include "app/session.h"
#include "app/table_export.h"
#include "app/verbs/verbs.h"
#include "app/whole_file.h"
#include "importers/bibtex_write.h"
#include "importers/csl_write.h"
#include "importers/ris_write.h"
#include "kg/model/fault.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

// The sources as they stand, as a bibliography, sorted by key. How many private ones were left out.
template <class Writer>
std::size_t write_bibliography(const Snapshot& graph, std::ostream& out, bool with_private) {
    std::vector<Source> sources;
    std::size_t left_out = 0;
    Privacy privacy(graph, with_private);
    graph.each_source([&](EntityId id, const Source& one) {
        if (privacy.may_show(id)) {
            sources.push_back(privacy.shown(one));
        } else {
            ++left_out;
        }
    });
    std::sort(sources.begin(), sources.end(), [](const Source& a, const Source& b) { return a.key < b.key; });
    Writer writer(out);
    for (const Source& source : sources) writer.put(source);
    writer.finish();
    return left_out;
}

// Writes in the format asked for. How many private records were left out.
std::size_t write_export(const Call& call, const Snapshot& graph, std::uint64_t from, std::ostream& out) {
    const std::string format = call.get("--format");
    if (format == "csl-json") return write_bibliography<CslWriter>(graph, out, call.with_private);
    if (format == "bibtex") return write_bibliography<BibtexWriter>(graph, out, call.with_private);
    if (format == "ris") return write_bibliography<RisWriter>(graph, out, call.with_private);
    if (is_rdf_format(format)) {
        if (from != 1) throw UsageFault("--since goes with JSON Lines", "leave it out: RDF holds the whole graph");
        return write_rdf(graph, format, out, call.with_private);
    }
    if (!format.empty() && format != "jsonl") {
        throw UsageFault("there is no format \"" + format + "\" to export to",
                         "use one of: jsonl, trig, nquads, jsonld, tables, csl-json, bibtex, ris");
    }
    return write_lines(graph, from, out, call.with_private);
}

int run_export(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    const std::string path = call.get("--output");
    if (call.has("--bag")) {
        if (call.has("--since") || call.has("--format") || !path.empty())
            throw UsageFault("a bag holds the whole graph", "give --bag without --format, --since and --output");
        export_bag(call, graph, call.graph, call.get("--bag"));
        return fine;
    }
    const std::uint64_t from = call.count("--since", 0, 0, graph.entry()) + 1;
    if (call.get("--format") == "tables") {
        if (path.empty() || path == "-" || call.has("--since"))
            throw UsageFault("tables are several files and hold the graph as it stands", "name a new folder with -o, and leave out --since");
        export_tables(call, graph, path);
        return fine;
    }
    if (path.empty() || path == "-") {
        write_export(call, graph, from, *call.out);
        return fine;
    }
    WholeFile file(path);
    const std::size_t left_out = write_export(call, graph, from, file.out());
    file.finish();
    *call.err << fmt::format("exported entries {} to {} to {}", from, graph.entry(), path);
    if (left_out) *call.err << fmt::format("; {} private records left out (see --with-private)", left_out);
    *call.err << '\n';
    return fine;
}

}  // namespace

Verb export_verb() {
    return {"export",
            "write the graph with its whole history as JSON Lines or RDF, or its sources as a bibliography",
            {},
            {{"-o,--output", "FILE", "where to (else standard output)"},
             {"--format", "FORMAT", "jsonl (default); trig, nquads or jsonld (RDF); tables (-o names a folder); csl-json, bibtex or ris for the sources alone"},
             {"--bag", "DIR", "a new folder for a bag (RFC 8493): the graph, its pictures, a page to read"},
             {"--since", "ENTRY", "only what came after this entry, and the earlier turns of what it names (JSON Lines)"}},
            run_export,
            "Loading the JSON Lines, TriG, N-Quads or bag into an empty graph gives the same graph. Records marked private are left out unless "
            "--with-private is given."};
}

}  // namespace saggar::app
