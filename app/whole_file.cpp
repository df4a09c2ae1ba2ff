#include "app/whole_file.h"

#include <fmt/format.h>

#include "kg/model/fault.h"

namespace saggar::app {

namespace fs = std::filesystem;

WholeFile::WholeFile(const std::string& path) : path_(path), target_(path) {
    std::error_code error;
    // A link may stand for a device, which has no name of its own to move a file to.
    const fs::file_status there = fs::status(target_, error);
    if (fs::is_directory(there)) throw UsageFault(path + " is a folder", "name a file");
    if (fs::exists(there) && !fs::is_regular_file(there)) {
        stream_.open(target_, std::ios::binary);
    } else {
        if (fs::is_symlink(fs::symlink_status(target_, error))) {
            const fs::path followed = fs::weakly_canonical(target_, error);
            if (!error) target_ = followed;
        }
        beside_ = target_;
        beside_ += ".saggar-part";
        stream_.open(beside_, std::ios::binary | std::ios::trunc);
    }
    if (!stream_) {
        beside_.clear();
        throw UsageFault(path + " cannot be written", "look whether the folder is there and may be written to");
    }
    if (!beside_.empty() && fs::exists(there)) fs::permissions(beside_, there.permissions(), error);
}

WholeFile::~WholeFile() {
    if (beside_.empty()) return;
    stream_.close();
    std::error_code ignored;
    fs::remove(beside_, ignored);
}

void WholeFile::finish() {
    stream_.close();
    std::error_code error;
    if (stream_ && !beside_.empty()) fs::rename(beside_, target_, error);
    if (!stream_ || error) throw StoreFault(path_ + " cannot be written", "see that the disk is not full");
    beside_.clear();
}

void write_whole(const std::string& path, const std::string& bytes, std::ostream& out) {
    if (path.empty() || path == "-") {
        out << bytes;
        return;
    }
    WholeFile file(path);
    file.out() << bytes;
    file.finish();
}

}  // namespace saggar::app
