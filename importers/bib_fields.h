// Names of types and fields in BibTeX and RIS beside their CSL names.
#pragma once

#include <string>
#include <string_view>

namespace saggar {

// Types that CSL does not tell apart ("mastersthesis", "EDBOOK") are kept under these names.
inline constexpr std::string_view bibtex_type_variable = "bibtex-type";
inline constexpr std::string_view ris_type_variable = "ris-type";

// Fields that hold no TeX ("The biblatex Package", 2.1.1: verbatim and uri fields).
bool is_verbatim_bibtex(std::string_view field);

// Empty where there is none.
std::string_view csl_type_of_bibtex(std::string_view entry_type);
std::string_view bibtex_type_of_csl(std::string_view csl_type);
// Of a field, which may depend on the entry's CSL type.
std::string_view csl_variable_of_bibtex(std::string_view field, std::string_view csl_type);
std::string_view bibtex_field_of_csl(std::string_view variable, std::string_view csl_type);

// Names of fields are small letters, digits and '-' to be sure to come back; any other sign of a name is written as '*' and two
// hexadecimal digits for each byte, behind "csl-". Names of CSL variables come back by themselves.
bool bibtex_name_holds(std::string_view variable);
std::string bibtex_name_of_any(std::string_view variable);
std::string name_of_bibtex_name(std::string_view name);

std::string_view csl_type_of_ris(std::string_view ris_type);
std::string_view ris_type_of_csl(std::string_view csl_type);
std::string_view csl_variable_of_ris(std::string_view tag, std::string_view csl_type);
std::string_view ris_tag_of_csl(std::string_view variable, std::string_view csl_type);

}  // namespace saggar
