// Text as it stands in XML and HTML.
#pragma once

#include <string>
#include <string_view>

namespace saggar {

// "&" "<" ">" "\"" "'" as references, everything else as it is: right in element text and in quoted attribute values
// (XML 1.0, section 2.4).
std::string escaped_markup(std::string_view text);

}  // namespace saggar
