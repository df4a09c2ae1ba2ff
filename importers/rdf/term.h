// RDF 1.1 terms as text: a term is held as it stands in N-Triples, so equal terms are equal bytes.
//
//   <iri>   _:label   "text"   "text"@tag   "text"^^<iri>
//
// Literals escape only what N-Triples must escape (\" \\ \n \r) and other control characters as \u00XX; xsd:string is left out.
// Source: RDF 1.1 N-Triples, W3C Recommendation 25 February 2014, sections 3 and 4.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace saggar::rdf {

struct Quad {
    std::string subject;
    std::string predicate;
    std::string object;
    std::string graph;  // empty: the default graph
    bool operator==(const Quad&) const = default;
};

std::string iri_term(std::string_view iri);
std::string literal_term(std::string_view text);
std::string typed_term(std::string_view text, std::string_view datatype_iri);
// `tag` must be one that RDF allows (is_language_tag).
std::string tagged_term(std::string_view text, std::string_view tag);

inline bool is_iri(std::string_view term) { return !term.empty() && term.front() == '<'; }
inline bool is_blank(std::string_view term) { return !term.empty() && term.front() == '_'; }
inline bool is_literal(std::string_view term) { return !term.empty() && term.front() == '"'; }

// The IRI without its brackets. Only of a term that is_iri.
inline std::string_view iri_of(std::string_view term) { return term.substr(1, term.size() - 2); }

struct LiteralParts {
    std::string text;
    std::string_view tag;
    std::string_view datatype;  // IRI; empty for plain and tagged ones
};
// Only of a term that is_literal. The views point into `term`.
LiteralParts literal_of(std::string_view term);

// Whether the text may stand behind "@": letters, then letters and digits between hyphens.
bool is_language_tag(std::string_view tag);
// Whether the text is an IRI with a scheme and holds nothing that N-Triples forbids in one.
bool is_absolute_iri(std::string_view iri);

// One line of N-Quads, with its line end.
std::string nquads_line(const Quad& quad);

// The text behind the last '/', '#' or ':' of an IRI, percent-decoded.
std::string last_segment(std::string_view iri);

}  // namespace saggar::rdf
