// Texts and numbers in one string, for pairs that are sorted outside memory. Not for files: the layout is this machine's.
#pragma once

#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

namespace saggar::rdf {

inline void pack(std::string& out, std::uint32_t number) { out.append(reinterpret_cast<const char*>(&number), sizeof number); }

inline void pack(std::string& out, std::string_view text) {
    pack(out, static_cast<std::uint32_t>(text.size()));
    out.append(text);
}

class Unpack {
public:
    explicit Unpack(std::string_view bytes) : bytes_(bytes) {}
    std::uint32_t number() {
        std::uint32_t number = 0;
        std::memcpy(&number, bytes_.data(), sizeof number);
        bytes_.remove_prefix(sizeof number);
        return number;
    }
    std::string_view text() {
        const std::size_t size = number();
        const std::string_view text = bytes_.substr(0, size);
        bytes_.remove_prefix(size);
        return text;
    }
    bool at_end() const { return bytes_.empty(); }

private:
    std::string_view bytes_;
};

// Bytes that sort as the number does.
inline void pack_sorted(std::string& out, std::uint64_t number) {
    for (int shift = 56; shift >= 0; shift -= 8) out += static_cast<char>((number >> shift) & 255);
}

}  // namespace saggar::rdf
