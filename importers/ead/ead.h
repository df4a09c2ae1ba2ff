// Finding aids in EAD3 (Society of American Archivists, Encoded Archival Description, version EAD3 1.1): an archive's
// collections, boxes and folders become sources with their places.
//
// The description (`archdesc`) and each component (`c`, `c01` to `c12`, however deep) with a title become a source:
//   unittitle -> title                    unitid -> call-number           level -> level
//   unitdate, unitdatestructured -> issued: its words through the reader of written dates, else its normal form
//   repository -> archive, with the address line of type "city" as place; the description's title -> collection
//   container of type box, folder -> box, folder, inherited from above    other containers -> a field of their type
//   origination -> author                 userestrict, accessrestrict -> rights, access
//   abstract, scopecontent -> abstract    physdesc, physdescstructured -> extent
//   titles of the components above -> series                              audience="internal" -> private
// Keys are `source:` with the slug of the record's id, and behind it the component's unitid, id or number. The archive becomes a
// thing of kind archive, and `source held-by archive` a claim with the finding aid as its source.
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

// The namespace of EAD3 and the root's name.
bool is_ead_start(std::string_view head);

void read_ead(TextInput& input, const ReadContext& context, Sink& sink, const std::string& source_key = {});

}  // namespace saggar
