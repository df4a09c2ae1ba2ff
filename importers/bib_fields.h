// Names of types and fields in BibTeX and RIS beside their CSL names.
#pragma once

#include <string_view>

namespace saggar {

// Empty where there is none.
std::string_view csl_type_of_bibtex(std::string_view entry_type);
std::string_view bibtex_type_of_csl(std::string_view csl_type);
// Of a field, which may depend on the entry's CSL type.
std::string_view csl_variable_of_bibtex(std::string_view field, std::string_view csl_type);
std::string_view bibtex_field_of_csl(std::string_view variable, std::string_view csl_type);

std::string_view csl_type_of_ris(std::string_view ris_type);
std::string_view ris_type_of_csl(std::string_view csl_type);
std::string_view csl_variable_of_ris(std::string_view tag, std::string_view csl_type);
std::string_view ris_tag_of_csl(std::string_view variable, std::string_view csl_type);

}  // namespace saggar
