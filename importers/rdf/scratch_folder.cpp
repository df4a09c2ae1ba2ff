#include "importers/rdf/scratch_folder.h"

#include <stdlib.h>

#include <string>

#include "kg/model/fault.h"

namespace saggar::rdf {

ScratchFolder::ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "saggar-rdf-XXXXXX").string();
    if (!mkdtemp(name.data()))
        throw StoreFault("no folder can be made in " + std::filesystem::temp_directory_path().string(),
                         "set TMPDIR to a folder that can be written to");
    path_ = name;
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

}  // namespace saggar::rdf
