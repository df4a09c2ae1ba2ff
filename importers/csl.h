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

#include "importers/sink.h"
#include "importers/text_input.h"

namespace saggar {

void read_csl(TextInput& input, Sink& sink);

// The key for an item's id; empty where nothing of it can stand in a key.
std::string source_key_of_id(std::string_view id);

}  // namespace saggar
