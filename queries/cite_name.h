// Names of people and bodies as notes and bibliographies write them.
//
// A name is written "Given Family" or "Family, Given"; several are separated by ";" or " and ". A name without a comma
// that holds a word such as "Company", "Museum" or "&" is a body and is never turned round (common practice; the
// structured form "Family, Given" is always right).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar {

struct CitedName {
    std::string family;  // or the whole name of a body
    std::string given;   // empty for a body
    std::string others;  // "and others", kept as written

    std::string natural() const;   // "Ada Quill"
    std::string inverted() const;  // "Quill, Ada"
};

std::vector<CitedName> read_names(std::string_view text);

// "A, B, and C"; four and more: "A et al." (Chicago Manual of Style, 17th ed., 14.76).
std::string names_for_note(const std::vector<CitedName>& names);
// "Quill, Ada, and Jon Orme"; eleven and more: the first seven and "et al.".
std::string names_for_bibliography(const std::vector<CitedName>& names);
// "Quill", "Quill and Orme", "Quill, Orme, and Pell", "Quill et al.".
std::string names_for_short_note(const std::vector<CitedName>& names);

}  // namespace saggar
