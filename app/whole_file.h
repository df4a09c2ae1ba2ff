// A file that is there whole or not at all: written beside its place and moved there when it is finished.
//
// Links are followed, so that what they point to is replaced and not the link; what is no file (a device, a pipe) is written
// straight. A file that stood there keeps its permissions. Until finish() the old file stands; without it the new one is taken away.
#pragma once

#include <filesystem>
#include <fstream>
#include <string>

namespace saggar::app {

class WholeFile {
public:
    // UsageFault where nothing can be written there.
    explicit WholeFile(const std::string& path);
    ~WholeFile();
    WholeFile(const WholeFile&) = delete;
    WholeFile& operator=(const WholeFile&) = delete;

    std::ostream& out() { return stream_; }
    // Puts the file in its place. StoreFault where the disk did not take it.
    void finish();

private:
    std::string path_;              // as it was named
    std::filesystem::path target_;  // links followed
    std::filesystem::path beside_;  // where it is written until then; empty: straight to the target
    std::ofstream stream_;
};

// Writes a file in one go; empty or "-": to `out`.
void write_whole(const std::string& path, const std::string& bytes, std::ostream& out);

}  // namespace saggar::app
