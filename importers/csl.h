// Bibliographies in CSL-JSON: an array of items, each a source.
//
// The key is `source:` and the item's id as a slug; an id that is a key already is taken as it is. `title`, `author`,
// `issued`, `archive`, `archive-place`, `archive_collection`, `archive_location`, `URL` fill the source's own fields;
// what `custom` holds under the names of our source columns does too (`type`, `grade`, `family`, `box`, ...). All else
// is kept as it is in `more`: texts as they are, names, dates and other values as JSON. So csl_write gives everything
// back. Dates become EDTF; one that cannot be read stays in `more`, with a warning.
#pragma once

#include <string>
#include <string_view>

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

void read_csl(TextInput& input, const ReadContext& context, Sink& sink);

// The key for an item's id; empty where nothing of it can stand in a key. An id that is a key of a kind of the vocabulary
// is taken as it is ("piece:jug-4"); any other becomes the slug of a source.
std::string source_key_of_id(std::string_view id, const Vocabulary& vocabulary);

}  // namespace saggar
