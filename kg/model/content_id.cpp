#include "kg/model/content_id.h"

#include <sodium.h>

namespace saggar {
namespace {

constexpr std::string_view crockford = "0123456789abcdefghjkmnpqrstvwxyz";
constexpr std::size_t id_characters = 26;  // 130 bits, the last 2 are 0

}  // namespace

std::string ContentId::full() const {
    std::string out;
    out.reserve(id_characters);
    std::uint32_t bits = 0;
    int held = 0;
    for (const std::uint8_t byte : bytes) {
        bits = (bits << 8) | byte;
        held += 8;
        while (held >= 5) {
            held -= 5;
            out += crockford[(bits >> held) & 31];
        }
    }
    out += crockford[(bits << (5 - held)) & 31];
    return out;
}

std::optional<ContentId> parse_content_id(std::string_view text) {
    if (text.size() != id_characters) return std::nullopt;
    ContentId id;
    std::uint32_t bits = 0;
    int held = 0;
    std::size_t at = 0;
    for (const char sign : text) {
        const auto value = crockford.find(sign);
        if (value == std::string_view::npos) return std::nullopt;
        bits = (bits << 5) | static_cast<std::uint32_t>(value);
        held += 5;
        if (held >= 8 && at < id.bytes.size()) {
            held -= 8;
            id.bytes[at++] = static_cast<std::uint8_t>(bits >> held);
        }
    }
    if ((bits & 3) != 0) return std::nullopt;
    return id;
}

ContentHash::ContentHash(std::string_view domain) {
    field(domain);
}

ContentHash& ContentHash::field(std::string_view text) {
    std::uint64_t size = text.size();
    while (size >= 128) {
        buffer_ += static_cast<char>(size | 128);
        size >>= 7;
    }
    buffer_ += static_cast<char>(size);
    buffer_ += text;
    return *this;
}

ContentId ContentHash::finish() {
    ContentId id;
    crypto_generichash(id.bytes.data(), id.bytes.size(), reinterpret_cast<const unsigned char*>(buffer_.data()),
                       buffer_.size(), nullptr, 0);
    return id;
}

}  // namespace saggar
