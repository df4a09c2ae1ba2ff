#include "kg/store/media.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "kg/model/fault.h"
#include "kg/model/sha512.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

// A file descriptor that closes itself.
class OpenFile {
public:
    OpenFile(const fs::path& path, int flags, mode_t mode = 0)
        : number_(::open(path.c_str(), flags | O_CLOEXEC, mode)) {}
    ~OpenFile() {
        if (number_ >= 0) ::close(number_);
    }
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    bool is_open() const { return number_ >= 0; }
    int number() const { return number_; }

private:
    int number_;
};

[[noreturn]] void cannot_write(const fs::path& path) {
    throw StoreFault(fmt::format("cannot write {}: {}", path.string(), std::strerror(errno)),
                     "see that the disk is not full and the folder can be written");
}

void write_all(int to, std::string_view bytes, const fs::path& path) {
    while (!bytes.empty()) {
        const ssize_t wrote = ::write(to, bytes.data(), bytes.size());
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote < 0) cannot_write(path);
        bytes.remove_prefix(static_cast<std::size_t>(wrote));
    }
}

// Copies and says the hash of what was copied.
std::string copy_hashed(const fs::path& file, const fs::path& part) {
    const OpenFile in(file, O_RDONLY);
    if (!in.is_open()) throw UsageFault("cannot read " + file.string(), "check the name and the permissions");
    const OpenFile out(part, O_WRONLY | O_CREAT | O_TRUNC, 0644);
    if (!out.is_open()) cannot_write(part);
    Sha512 hash(Sha512::Kind::cut_to_256);
    std::string buffer(1 << 20, '\0');
    for (;;) {
        const ssize_t got = ::read(in.number(), buffer.data(), buffer.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) throw UsageFault("cannot read " + file.string(), "check the disk");
        if (got == 0) break;
        const std::string_view bytes(buffer.data(), static_cast<std::size_t>(got));
        hash.feed(bytes);
        write_all(out.number(), bytes, part);
    }
    if (::fsync(out.number()) != 0) cannot_write(part);
    return hash.finish();
}

void sync_folder(const fs::path& folder) {
    const OpenFile open(folder, O_RDONLY | O_DIRECTORY);
    if (!open.is_open() || ::fsync(open.number()) != 0) cannot_write(folder);
}

bool is_hash(std::string_view text) {
    return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

}  // namespace

std::string media_hash(const Source& source) {
    for (const auto& [name, text] : source.more) {
        if (name != checksum_field || text.compare(0, checksum_start.size(), checksum_start) != 0) continue;
        const std::string hash = text.substr(checksum_start.size());
        if (is_hash(hash)) return hash;
    }
    return {};
}

fs::path media_path(const fs::path& graph_folder, const std::string& hash) { return graph_folder / "media" / hash; }

bool keep_media(const fs::path& graph_folder, const fs::path& file, const std::string& hash) {
    if (!is_hash(hash)) throw UsageFault(fmt::format("\"{}\" is no SHA-512/256", hash), "give 64 hexadecimal digits");
    const fs::path folder = graph_folder / "media";
    const fs::path path = media_path(graph_folder, hash);
    std::error_code none;
    if (media_state(graph_folder, hash) == MediaState::whole) return false;
    fs::create_directories(folder, none);
    const fs::path part = folder / (hash + ".part");
    const std::string found = copy_hashed(file, part);
    if (found != hash) {
        fs::remove(part, none);
        throw UsageFault(file.string() + " changed while it was read", "load it again");
    }
    fs::rename(part, path, none);
    if (none) cannot_write(path);
    sync_folder(folder);
    sync_folder(graph_folder);
    return true;
}

MediaState media_state(const fs::path& graph_folder, const std::string& hash) {
    const fs::path path = media_path(graph_folder, hash);
    std::error_code none;
    if (!fs::is_regular_file(path, none)) return MediaState::missing;
    return sha512_of_file(path, Sha512::Kind::cut_to_256) == hash ? MediaState::whole : MediaState::altered;
}

}  // namespace saggar
