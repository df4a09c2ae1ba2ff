// Our own RDF read back: the nodes that record_quads.h wrote become the records, documents and entries they were, in their old order.
//
// A node is read by its type (urn:saggar:term:Claim) and by the predicates of its fields; whatever else is said of it was written for
// other readers and is passed over. Statements may come in any order: they are gathered by node and the records put in order outside
// memory. Each record becomes a line of our JSON Lines on the way, so that both forms are read and checked by the same code.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "importers/rdf/grouping.h"
#include "importers/rdf/quad_reader.h"
#include "importers/rdf/source_lines.h"
#include "importers/rdf/term.h"
#include "importers/sink.h"

namespace saggar::rdf {

class OwnNode;

class OwnRecords {
public:
    explicit OwnRecords(const std::filesystem::path& folder);

    // Whether a statement is one of these, by its subject and graph.
    static bool takes(const Quad& quad);
    // Whether nobody else should look at it.
    static bool takes_alone(const Quad& quad);
    void add(const Quad& quad, const Spot& spot);

    // All records, once. Problems have the line where the node was first spoken of.
    void put(const SourceLines& lines, Sink& sink, Problems& problems);

private:
    Grouping nodes_;
    SortedRuns ordered_;
    std::uint64_t unordered_ = 0;

    void order(std::string_view subject, const OwnNode& node, const SourceLines& lines, Problems& problems);
};

// Documents of our own RDF, for a reader who needs the vocabulary before the records: the text of the one called `name` that the earliest
// entry wrote. Nothing where the file does not begin as our export does.
std::optional<std::string> own_document(TextInput& input, Syntax syntax, std::string_view name);

}  // namespace saggar::rdf
