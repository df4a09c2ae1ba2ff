// A first metadata document for a table, from its header and its data, for a person to edit.
//
// Each column gets its heading, a name, the datatype all its cells have, and a separator where many cells are lists. A heading
// that is (nearly) the name of a relation or of a field gets its propertyUrl; a column without one is described and not read.
// What parts the cells (comma, semicolon, tab or bar) is taken from the first line.
// The first column whose cells are all filled and all different names the subject. Looks at the first 2000 rows.
#pragma once

#include <string>

#include "importers/text_input.h"
#include "kg/model/vocabulary.h"

namespace saggar::csvw {

// The document as JSON text. Empty where the table cannot be read; the input's problems say why.
std::string suggest_metadata(TextInput& input, const std::string& file_name, const Vocabulary& vocabulary);

}  // namespace saggar::csvw
