// Bibliographies in RIS (Research Information Systems; the tags as the format's description of 2011 gives them).
//
//   file   = *record         record = "TY  - " type line-end *line "ER  - " line-end
//   line   = TAG "  - " text line-end        TAG = a letter and a letter or digit; text may go on in lines without a tag
//
// Every record becomes a source; tags get their CSL names, N1 lines that read `column: value` with a column of our table
// `sources` are ours. SP and EP become one page range. DA holds year/month/day/other; an EDTF date among the other
// information is taken. Tags without a CSL name are kept under their own.
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

void read_ris(TextInput& input, const ReadContext& context, Sink& sink);

}  // namespace saggar
