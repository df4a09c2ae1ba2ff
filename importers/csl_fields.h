// The variables of CSL-JSON by the type of their value, as its schema lists them (citation-style-language/schema,
// schemas/input/csl-data.json). A test compares every name with the list of the schema.
#pragma once

#include <cstdint>
#include <string_view>

namespace saggar {

enum class CslType : std::uint8_t { unknown, text, names, date };

// `unknown`: the schema has no such variable; it belongs under `custom`.
CslType csl_type(std::string_view variable);

// The variable that this is in small letters ("pmid": "PMID"); empty where there is none.
std::string_view csl_variable_of_folded(std::string_view folded);

// Whether the schema has this item type ("book", "manuscript", ...).
bool is_csl_item_type(std::string_view type);

}  // namespace saggar
