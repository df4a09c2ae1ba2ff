// A copy of the whole graph folder that can be checked and put back.
//
//   DIR/db/…, DIR/media/…   the files
//   DIR/manifest.txt        one line a file: BLAKE2b-256 in hexadecimal, two blanks, path; written last
#pragma once

#include <cstdint>
#include <filesystem>

#include "kg/store/store.h"

namespace saggar {

struct BackupReport {
    std::uint64_t files = 0;
    std::uint64_t bytes = 0;
    std::uint64_t entry = 0;  // the last entry of the history it holds
};

// Makes `target`, which must not exist or be empty. Works while the graph is open; a consistent copy of this moment.
BackupReport backup(const Store& store, const std::filesystem::path& target);

// Checks the backup against its manifest, then copies it to `target` (missing or empty). StoreFault where a file is
// missing or differs; then nothing is left in `target`.
BackupReport restore(const std::filesystem::path& backup, const std::filesystem::path& target);

}  // namespace saggar
