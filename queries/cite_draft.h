// The things and claims a draft text names: links `[text](shape:lantern)` and `claim:…` ids, wherever they stand.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar {

// Keys and claim ids in order of first mention, each once. Targets of Markdown links and bare `claim:ID` words; a
// link to a web address is not a key. Cost: one pass.
std::vector<std::string> names_in_draft(std::string_view text);

}  // namespace saggar
