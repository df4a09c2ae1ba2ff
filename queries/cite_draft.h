// The things and claims a draft text names: links `[text](shape:lantern)`, `claim:…` ids, and citation keys as pandoc's
// Markdown has them (`[@source:memo-1, p. 4; @hale-1979]`, `@shape:lantern`), wherever they stand.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar {

// Keys and claim ids in order of first mention, each once. Targets of Markdown links, bare `claim:ID` words, and citation
// keys, where one without a kind is a source's; a link to a web address is not a key, an "@" inside a word (a mail
// address) begins none. Cost: one pass.
std::vector<std::string> names_in_draft(std::string_view text);

}  // namespace saggar
