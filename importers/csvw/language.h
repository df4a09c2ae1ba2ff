// Language tags by their form, BCP 47 (RFC 5646, section 2.1), which is also the pattern of xsd:language (XML Schema 1.1,
// part 2, section 3.4.3): subtags of one to eight letters, behind the first also digits.
#pragma once

#include <string_view>

namespace saggar::csvw {

bool is_language(std::string_view text);

}  // namespace saggar::csvw
