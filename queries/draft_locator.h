// The locator that follows a key in a citation of a draft, told from the words after it (Pandoc User's Guide,
// "Citation syntax": a term with numbers, numbers alone as pages, or anything in braces).
#pragma once

#include <string>
#include <string_view>

namespace saggar {

struct DraftLocator {
    std::string at;      // "page=33-35,38", "chap. 2"; empty: none
    std::string suffix;  // the rest, beginning with its blank or comma
};

// `rest`: what stands between the key and the end of its part. "chapter 2" and "chap. 2" are the same.
DraftLocator read_draft_locator(std::string_view rest);

}  // namespace saggar
