// Whether a folder is a whole and valid bag (RFC 8493, section 3).
//
// bagit.txt, the payload manifests and tag manifests in SHA-512 or SHA-256, and Payload-Oxum are held against the files that
// are there. Symbolic links and special files are refused, and so is a bag that wants files fetched: nothing is fetched.
// Names that differ only in letter case or Unicode normal form (section 6) are told, since other systems confuse them.
// Cost: one reading of every file.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "importers/text_input.h"

namespace saggar {

// A folder with a bagit.txt.
bool is_bag(const std::filesystem::path& folder);

// The paths of the payload files, below the bag, in order; problems where the bag is not whole and valid.
std::vector<std::string> check_bag(const std::filesystem::path& folder, const std::string& name,
                                   const TextLimits& limits, Problems& problems);

}  // namespace saggar
