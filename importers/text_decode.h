// Bytes of a file into valid UTF-8, a chunk at a time.
//
// Well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing beyond U+10FFFF) passes as it is. A byte that
// belongs to no well-formed sequence is read as Windows-1252 (WHATWG Encoding Standard, index-windows-1252), which is
// what such bytes nearly always are, in a whole file or in one pasted cell; the caller warns with the first place.
// The five bytes that Windows-1252 does not assign (81, 8D, 8F, 90, 9D) and NUL are refused. A byte order mark at the
// start is dropped; one of UTF-16 or UTF-32 is refused. About 2 GB/s where the text is ASCII.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace saggar {

class TextDecoder {
public:
    // A byte that was not UTF-8, and where its replacement (or what was put in its place) starts in all output so far.
    struct OddByte {
        std::uint8_t byte = 0;
        std::uint64_t offset = 0;
    };

    // Appends what can be decided of `bytes`; up to three bytes wait for the next call.
    void feed(std::string_view bytes, std::string& out);
    // Nothing follows: what waits is odd.
    void finish(std::string& out);

    std::uint64_t converted() const { return converted_; }
    const std::optional<OddByte>& first_converted() const { return first_converted_; }
    // A byte that no reading makes text; U+FFFD stands in its place.
    const std::optional<OddByte>& first_refused() const { return first_refused_; }
    // "UTF-16", "UTF-32": the file starts with the mark of another encoding.
    std::string_view other_encoding() const { return other_encoding_; }

private:
    void decode(std::string_view bytes, bool last, std::string& out);
    void odd(std::uint8_t byte, std::string& out);

    std::string waiting_;
    bool started_ = false;
    std::uint64_t produced_ = 0;  // bytes of output before the present call's
    std::size_t out_start_ = 0;
    std::uint64_t converted_ = 0;
    std::optional<OddByte> first_converted_;
    std::optional<OddByte> first_refused_;
    std::string_view other_encoding_;
};

// The character of Windows-1252 for a byte from 80; 0 where it assigns none.
char32_t windows_1252(std::uint8_t byte);

void append_utf8(char32_t point, std::string& out);

}  // namespace saggar
