#include "importers/rdf/scratch_folder.h"

#include <sodium.h>

#include <array>
#include <string>

#include "kg/model/fault.h"

namespace saggar::rdf {

ScratchFolder::ScratchFolder() {
    std::array<unsigned char, 16> bytes{};
    randombytes_buf(bytes.data(), bytes.size());
    std::string name = "saggar-rdf-";
    for (const unsigned char byte : bytes) {
        name += "0123456789abcdef"[byte >> 4];
        name += "0123456789abcdef"[byte & 15];
    }
    std::error_code missing;
    path_ = std::filesystem::temp_directory_path(missing) / name;
    if (missing) throw UsageFault("there is no folder for temporary files", "set TMPDIR to a folder you may write to");
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

}  // namespace saggar::rdf
