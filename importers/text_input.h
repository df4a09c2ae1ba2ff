// The text of a file as a window that moves forward: valid UTF-8, in constant memory.
//
// A reader looks at `window()`, asks for `more()` while what it is reading is cut off by the window's end, and
// `consume()`s what it has done with. What is wrong with the bytes themselves (encoding, size) becomes a problem here,
// once, so no reader has to think of it. Not thread-safe.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

#include "importers/text_decode.h"
#include "kg/model/problem.h"

namespace saggar {

// Exceeding one is a problem with the data, not a fault.
struct TextLimits {
    std::uint64_t file_bytes = std::uint64_t{64} << 30;
    std::size_t piece_bytes = 16u << 20;   // the longest row, line or statement
    std::size_t whole_bytes = 512u << 20;  // the longest file of a format that is read as a whole
};

// Where the bytes come from.
class ByteSource {
public:
    virtual ~ByteSource() = default;
    // Up to `size` bytes into `to`; 0 at the end. StoreFault where reading fails.
    virtual std::size_t read(char* to, std::size_t size) = 0;
};

// A file. UsageFault where it cannot be opened.
std::unique_ptr<ByteSource> open_file(const std::filesystem::path& path);
// Bytes in memory, which must outlive the source.
std::unique_ptr<ByteSource> open_bytes(std::string_view bytes);

class TextInput {
public:
    // `name` is what problems call the file.
    TextInput(std::string name, std::unique_ptr<ByteSource> source, Problems& problems, TextLimits limits = {});

    const std::string& name() const { return name_; }
    Problems& problems() const { return problems_; }
    const TextLimits& limits() const { return limits_; }

    // What has been read and not consumed. Changes with more() and consume().
    std::string_view window() const { return std::string_view(buffer_).substr(start_); }
    // The line of the window's first byte, from 1.
    std::uint32_t line() const { return line_; }

    // Reads on; false at the end of the file, or where the file cannot be read further (a problem says why).
    bool more();
    void consume(std::size_t bytes);

    // The rest of the file as one string. Empty and a problem where it exceeds limits().whole_bytes.
    std::string rest();

private:
    void report_encoding(std::size_t new_text);
    Place place_of(std::uint64_t offset) const;
    bool stop(std::string id, Place place, std::string message, std::string next);

    std::string name_;
    std::unique_ptr<ByteSource> source_;
    Problems& problems_;
    TextLimits limits_;
    TextDecoder decoder_;
    std::string bytes_;
    std::string buffer_;
    std::size_t start_ = 0;
    std::uint64_t consumed_ = 0;  // bytes of text before buffer_[start_]
    std::uint64_t read_ = 0;      // bytes of the file
    std::uint32_t line_ = 1;
    bool ended_ = false;
    bool warned_ = false;
    bool refused_ = false;
};

}  // namespace saggar
