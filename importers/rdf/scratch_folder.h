// A name for a folder of one's own under the system's folder for temporary files (TMPDIR), removed with what is in it at the end.
//
// The folder is made by whoever first writes into it (kg/store/sorted_runs.h): small files never touch the disk. The name holds
// 128 random bits, so nobody can have made it before.
#pragma once

#include <filesystem>

namespace saggar::rdf {

class ScratchFolder {
public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

}  // namespace saggar::rdf
