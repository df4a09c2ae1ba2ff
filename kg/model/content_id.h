// Ids derived from content: two people who record the same proposition have the same claim.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <cstring>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace saggar {

// 128 bits of BLAKE2b (RFC 7693) over the length-prefixed fields of a record.
struct ContentId {
    std::array<std::uint8_t, 16> bytes{};

    auto operator<=>(const ContentId&) const = default;
    bool empty() const { return *this == ContentId{}; }
    // All 26 characters, lower-case base32 of Crockford's alphabet (no i, l, o, u).
    std::string full() const;
    // The first 8 characters: what is printed. May be ambiguous in a very large graph; the store resolves prefixes.
    std::string brief() const { return full().substr(0, 8); }
};

// Reads 26 characters; nothing where the text is not one.
std::optional<ContentId> parse_content_id(std::string_view text);

// Feeds fields to the hash. Each field is preceded by its length, so no two field lists collide by concatenation.
class ContentHash {
public:
    explicit ContentHash(std::string_view domain);
    ContentHash& field(std::string_view text);
    ContentId finish();

private:
    std::string buffer_;
};

}  // namespace saggar

template <>
struct std::hash<saggar::ContentId> {
    std::size_t operator()(const saggar::ContentId& id) const noexcept {
        std::uint64_t word;
        std::memcpy(&word, id.bytes.data(), sizeof word);
        return static_cast<std::size_t>(word);
    }
};
