// A folder of its own under the system's folder for temporary files (TMPDIR), removed with what is in it at the end.
#pragma once

#include <filesystem>

namespace saggar::rdf {

class ScratchFolder {
public:
    ScratchFolder();  // StoreFault where none can be made
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

}  // namespace saggar::rdf
