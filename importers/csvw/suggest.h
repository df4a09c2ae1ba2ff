// A first metadata document for a table, from its header and its data, for a person to edit.
//
// Each column gets its heading, a name, the datatype all its cells have, and a separator where many cells are lists. A heading
// that is the name of a relation or a field gets its propertyUrl; one that only suggests it (headings.h) gets it as a proposal,
// "saggar:proposed", which a load passes over with a warning until somebody has checked it and taken the mark out; a column
// without propertyUrl is described and not read. A column of roles gets a look-up of them. What parts the cells (comma,
// semicolon, tab or bar) is taken from the first line. The first column whose cells are all filled and all different names the
// subject, else the first that is filled and headed like a number or a kind. A title of the sheet above the header is skipped
// (skipRows), rows with one filled cell are not counted. Looks at the first 2000 rows.
#pragma once

#include <string>

#include "importers/text_input.h"
#include "kg/model/vocabulary.h"

namespace saggar::csvw {

// The document as JSON text. Empty where the table cannot be read; the input's problems say why.
std::string suggest_metadata(TextInput& input, const std::string& file_name, const Vocabulary& vocabulary);

}  // namespace saggar::csvw
