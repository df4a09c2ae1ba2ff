// The things and claims a draft text names: links `[text](shape:lantern)`, `claim:…` ids, and citations as pandoc's
// Markdown has them (Pandoc User's Guide, "Citation syntax"):
//
//   [see @source:memo-1, pp. 4-6 and margin; -@hale-1979, {fold 2}]    @hale-1979 [p. 5] says
//
// A key without a kind is a source's. Before a key may stand words and "-" (without the author, whom the text names);
// after it a locator and further words. A locator is a label (p., chap., fol., …) with a number, a number alone (a
// page), whatever stands in braces, or a place as saggar writes it (`t=63,70`).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar {

struct DraftCitation {
    std::string name;    // key or claim id
    std::string prefix;  // "see"
    std::string at;      // as evidence has it (cite_locator.h): "page=4-6"; "chap. 2"
    std::string suffix;  // ", and passim", with what stood before it
    bool without_author = false;
    bool operator==(const DraftCitation&) const = default;
};

// One place of the draft. A link or a claim id has one part and is no citation.
struct DraftMention {
    std::vector<DraftCitation> parts;
    bool is_citation = false;
    std::string written;  // the citation as it stands in the draft
    std::size_t line = 1;
};

// Mentions in order. A link to a web address is not one; an "@" inside a word (a mail address), after a backslash or in
// code begins none. Cost: one pass.
std::vector<DraftMention> mentions_in_draft(std::string_view text);

// Keys and claim ids in order of first mention, each once.
std::vector<std::string> names_in_draft(std::string_view text);

}  // namespace saggar
