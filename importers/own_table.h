// Our own tables in files: entities, sources, claims, told apart by their header.
#pragma once

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

// Reads the whole table into the sink. `default_source`: see ClaimRows. Problems are in the input's collection.
void read_own_table(TextInput& input, const ReadContext& context, Sink& sink, std::string default_source = {});

// Whether a header line looks like one of our own tables: it names subject and relation, or key.
bool is_own_table_header(std::string_view first_line);

}  // namespace saggar
