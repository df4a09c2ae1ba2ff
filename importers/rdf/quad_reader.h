// Turtle, TriG, N-Triples and N-Quads as a stream of quads, in constant memory.
//
// Sources: RDF 1.1 Turtle, TriG, N-Triples and N-Quads, W3C Recommendations, 25 February 2014. The parser is serd in its strict
// mode; what it lets pass is checked here: IRIs must be absolute and hold no forbidden sign, not even an escaped one, and blank
// nodes of the text keep their labels apart from those made for brackets. A file in lines (N-Triples, N-Quads) is read on after
// a line with an error, so that all its errors are told; of the other two the first error ends the reading.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>

#include "importers/rdf/byte_feed.h"
#include "importers/rdf/term.h"
#include "importers/text_input.h"

namespace saggar::rdf {

enum class Syntax : std::uint8_t { turtle, trig, ntriples, nquads };

// Where a statement stands: its line, and the token read last before it was complete (its object, or its graph).
using QuadVisitor = std::function<void(const Quad& quad, const Spot& spot)>;

struct QuadReading {
    Syntax syntax = Syntax::turtle;
    std::string base;  // what relative IRIs start from; empty: relative IRIs are refused
};

// Problems have ids rdf-...; the text of a place is no line but the slice, where it is known: see SourceLines.
void read_quads(TextInput& input, const QuadReading& reading, const QuadVisitor& visit, Problems& problems);

}  // namespace saggar::rdf
