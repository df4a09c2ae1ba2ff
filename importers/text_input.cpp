#include "importers/text_input.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>

#include "kg/model/fault.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

constexpr std::size_t chunk_bytes = 256u << 10;

class FileSource final : public ByteSource {
public:
    explicit FileSource(const std::filesystem::path& path) : path_(path), stream_(path, std::ios::binary) {
        if (!stream_ || std::filesystem::is_directory(path)) {
            throw UsageFault(fmt::format("cannot read {}", path.string()), "check the name and the permissions");
        }
    }
    std::size_t read(char* to, std::size_t size) override {
        stream_.read(to, static_cast<std::streamsize>(size));
        if (stream_.bad()) {
            throw StoreFault(fmt::format("reading {} failed", path_.string()), "check the disk");
        }
        return static_cast<std::size_t>(stream_.gcount());
    }

private:
    std::filesystem::path path_;
    std::ifstream stream_;
};

class MemorySource final : public ByteSource {
public:
    explicit MemorySource(std::string_view bytes) : bytes_(bytes) {}
    std::size_t read(char* to, std::size_t size) override {
        const std::size_t count = bytes_.copy(to, size);
        bytes_.remove_prefix(count);
        return count;
    }

private:
    std::string_view bytes_;
};

}  // namespace

std::unique_ptr<ByteSource> open_file(const std::filesystem::path& path) {
    return std::make_unique<FileSource>(path);
}
std::unique_ptr<ByteSource> open_bytes(std::string_view bytes) {
    return std::make_unique<MemorySource>(bytes);
}

TextInput::TextInput(std::string name, std::unique_ptr<ByteSource> source, Problems& problems, TextLimits limits)
    : name_(std::move(name)), source_(std::move(source)), problems_(problems), limits_(limits) {
    more();
}

bool TextInput::stop(std::string id, Place place, std::string message, std::string next) {
    problems_.add({std::move(id), Severity::error, std::move(place), std::move(message), std::move(next)});
    ended_ = true;
    return false;
}

bool TextInput::more() {
    if (ended_) return false;
    if (start_ > 0 && start_ >= buffer_.size() / 2) {
        buffer_.erase(0, start_);
        start_ = 0;
    }
    const std::size_t before = buffer_.size();
    while (buffer_.size() == before && !ended_) {
        bytes_.resize(chunk_bytes);
        bytes_.resize(source_->read(bytes_.data(), bytes_.size()));
        read_ += bytes_.size();
        if (bytes_.empty()) {
            decoder_.finish(buffer_);
            ended_ = true;
        } else {
            decoder_.feed(bytes_, buffer_);
        }
        if (!decoder_.other_encoding().empty()) {
            buffer_.clear();
            start_ = 0;
            return stop("text-other-encoding", Place{name_, 0, 0, "", 0},
                        fmt::format("the file starts with the byte order mark of {}", decoder_.other_encoding()),
                        "save it as UTF-8");
        }
        if (read_ > limits_.file_bytes) {
            return stop("text-too-long", Place{name_, 0, 0, "", 0},
                        fmt::format("the file is longer than {} bytes", limits_.file_bytes), "split it");
        }
    }
    report_encoding(before);
    return buffer_.size() > before;
}

void TextInput::report_encoding(std::size_t) {
    if (decoder_.first_refused() && !refused_) {
        refused_ = true;
        const auto& odd = *decoder_.first_refused();
        problems_.add({"text-bad-byte", Severity::error, place_of(odd.offset),
                       fmt::format("the byte {:02X} (hexadecimal) is no text in UTF-8 or Windows-1252", odd.byte),
                       "save the file as UTF-8, or take the sign out"});
    }
    if (decoder_.first_converted() && !warned_) {
        warned_ = true;
        const auto& odd = *decoder_.first_converted();
        problems_.add({"text-windows-1252", Severity::warning, place_of(odd.offset),
                       fmt::format("the byte {:02X} (hexadecimal) is not UTF-8; it and others like it in this file are "
                                   "read as Windows-1252",
                                   odd.byte),
                       "check the letters beyond ASCII, and save the file as UTF-8"});
    }
}

Place TextInput::place_of(std::uint64_t offset) const {
    // The first odd byte is reported when its chunk arrives, so it still stands in the buffer.
    const std::size_t at = start_ + static_cast<std::size_t>(offset - consumed_);
    TextLines lines(name_, std::string_view(buffer_).substr(start_), line_);
    return lines.place(at - start_, at - start_ + 1);
}

void TextInput::consume(std::size_t bytes) {
    const auto from = buffer_.begin() + static_cast<std::ptrdiff_t>(start_);
    line_ += static_cast<std::uint32_t>(std::count(from, from + static_cast<std::ptrdiff_t>(bytes), '\n'));
    start_ += bytes;
    consumed_ += bytes;
}

std::string TextInput::rest() {
    while (more()) {
        if (buffer_.size() - start_ <= limits_.whole_bytes) continue;
        stop("text-too-long", Place{name_, 0, 0, "", 0},
             fmt::format("the file is longer than {} bytes, and this format is read as a whole", limits_.whole_bytes),
             "split it");
        return {};
    }
    return buffer_.substr(start_);
}

}  // namespace saggar
