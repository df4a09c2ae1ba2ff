// The graph as RDF with its whole history: N-Quads, TriG or JSON-LD, one named graph per claim and more (importers/rdf/record_quads.h).
//
// Two passes over the history: the first learns the state of each claim from what goes out, the second writes quads, which are sorted
// outside memory. So the output depends on the graph alone.
#pragma once

#include <ostream>
#include <string_view>

#include "kg/store/snapshot.h"

namespace saggar::app {

// "trig", "nquads" or "jsonld".
bool is_rdf_format(std::string_view format);

// How many private records were left out.
std::size_t write_rdf(const Snapshot& graph, std::string_view format, std::ostream& out, bool with_private);

}  // namespace saggar::app
