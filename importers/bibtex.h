// Bibliographies in BibTeX (Patashnik, "BibTeXing", 1988), with the date and name conventions of biblatex.
//
//   file  = *(text | entry)          entry = "@" type ("{" key "," *fields "}" | "(" ... ")")
//   field = name "=" value           value = piece *("#" piece)      piece = "{" balanced "}" | '"' balanced '"' | number | macro
//
// @string defines macros (the month names are there already), @comment and @preamble are passed over. TeX accents, dashes and
// escapes become letters. Every entry becomes a source; fields get their CSL names; fields with the names of our `sources`
// columns (`grade`, `family`, `box`, ...; `kind` for our type) are ours, all else is kept as it is.
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

void read_bibtex(TextInput& input, const ReadContext& context, Sink& sink);

}  // namespace saggar
