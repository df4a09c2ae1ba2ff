// Names as BibTeX writes them: "First von Last", "von Last, First", "von Last, Jr, First", parted by " and " outside braces.
//
// Patashnik, "BibTeXing" (1988), section 4; a word is of the "von" part where it begins with a small letter. A name all in
// braces is a body.
#pragma once

#include <string_view>
#include <vector>

#include "importers/bib_item.h"

namespace saggar {

std::vector<BibName> names_of_tex(std::string_view tex);

}  // namespace saggar
