// The names of our own RDF: which IRI stands for what, and the predicate of every field of every record.
//
// Things, claims and the rest are URNs made from keys and content ids (urn:saggar:thing:shape:lantern, urn:saggar:claim:ID): they name, and
// promise no address on the web. Where a published vocabulary has a term that says exactly what a field says, that term is used; all
// other fields are urn:saggar:term:FIELD, with the names of kg/model/record_fields.h.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "importers/rdf/term.h"

namespace saggar::rdf {

inline constexpr std::string_view own_space = "urn:saggar:";
inline constexpr std::string_view edtf_datatype = "http://id.loc.gov/datatypes/edtf/EDTF";

// Prefix and IRI, in the order of the context document, which is where they are kept.
const std::vector<std::pair<std::string, std::string>>& prefixes();
const std::string& context_document();

// "crm:E22_Human-Made_Object" as a term <...>; empty where the prefix is unknown.
std::string term_of(std::string_view curie);
// An xsd datatype's IRI.
inline std::string xsd(std::string_view name) { return "http://www.w3.org/2001/XMLSchema#" + std::string(name); }

// <urn:saggar:SPACE:name>
std::string own_term(std::string_view space, std::string_view name);
// The name behind <urn:saggar:SPACE:, nothing where the term is no such IRI.
std::optional<std::string_view> own_name(std::string_view term, std::string_view space);

// A key as the thing it names; words that are no key stay a literal.
std::string key_or_words(std::string_view key);
std::string agent_term(std::string_view name);
std::string edtf_term(std::string_view text);

// The predicate of a field, as a term; `word` is the record's ("claim").
std::string field_predicate(std::string_view word, std::string_view field);
// The field behind a predicate; empty where it is none.
std::string field_of_predicate(std::string_view word, std::string_view predicate);

}  // namespace saggar::rdf
