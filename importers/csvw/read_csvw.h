// Any table through its CSVW metadata.
#pragma once

#include <filesystem>
#include <string>

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar::csvw {

// Reads the table `input`, which is the file `path`, by the metadata document `map`. Problems are in the input's
// collection. UsageFault where the document cannot be opened.
void read_csvw(TextInput& input, const std::filesystem::path& path, const std::filesystem::path& map,
               const ReadContext& context, Sink& sink, std::string default_source = {});

// The document that belongs to a table by its name (NAME-metadata.json or csv-metadata.json beside it) and describes
// it; empty where there is none. NAME-metadata.json also where it is broken, so that a load tells what is wrong with it.
std::filesystem::path find_metadata(const std::filesystem::path& table);

}  // namespace saggar::csvw
