// Sorted quads as N-Quads, TriG or JSON-LD 1.1, streaming.
//
// Sources: RDF 1.1 N-Quads and TriG, W3C Recommendations, 25 February 2014; JSON-LD 1.1, W3C Recommendation, 16 July 2020. Quads must
// come in the order of quad_sort.h. IRIs are shortened by the prefixes of the context document (own_names.h) where the rest is plain;
// JSON-LD carries that document in its first member.
#pragma once

#include <memory>
#include <optional>
#include <ostream>
#include <string_view>

#include "importers/rdf/term.h"

namespace saggar::rdf {

class QuadWriter {
public:
    virtual ~QuadWriter() = default;
    virtual void put(const Quad& quad) = 0;
    virtual void finish() = 0;
};

// "nquads", "trig" or "jsonld"; null for any other word. `out` must outlive it.
std::unique_ptr<QuadWriter> quad_writer(std::string_view format, std::ostream& out);

}  // namespace saggar::rdf
