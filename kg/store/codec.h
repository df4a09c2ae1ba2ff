// Bytes in and out: varints, big-endian numbers for keys, length-prefixed text.
#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "kg/model/fault.h"

namespace saggar {

inline void append_big32(std::string& out, std::uint32_t value) {
    const char bytes[4] = {static_cast<char>(value >> 24), static_cast<char>(value >> 16),
                           static_cast<char>(value >> 8), static_cast<char>(value)};
    out.append(bytes, 4);
}

inline void append_big64(std::string& out, std::uint64_t value) {
    append_big32(out, static_cast<std::uint32_t>(value >> 32));
    append_big32(out, static_cast<std::uint32_t>(value));
}

// Numbers of entities and claims where bytes count: below 2^40.
inline void append_big40(std::string& out, std::uint64_t value) {
    out += static_cast<char>(value >> 32);
    append_big32(out, static_cast<std::uint32_t>(value));
}

inline void append_varint(std::string& out, std::uint64_t value) {
    while (value >= 128) {
        out += static_cast<char>(value | 128);
        value >>= 7;
    }
    out += static_cast<char>(value);
}

inline void append_text(std::string& out, std::string_view text) {
    append_varint(out, text.size());
    out += text;
}

inline void append_double(std::string& out, double value) {
    const auto bits = std::bit_cast<std::uint64_t>(value);
    append_big64(out, bits);
}

// Reads what the functions above wrote. Throws StoreFault where the bytes end too soon: the graph is damaged.
class Bytes {
public:
    explicit Bytes(std::string_view bytes) : rest_(bytes) {}

    std::uint8_t byte() {
        need(1);
        const auto value = static_cast<std::uint8_t>(rest_[0]);
        rest_.remove_prefix(1);
        return value;
    }
    std::uint32_t big32() {
        need(4);
        std::uint32_t value = 0;
        for (int i = 0; i < 4; ++i)
            value = (value << 8) | static_cast<std::uint8_t>(rest_[static_cast<std::size_t>(i)]);
        rest_.remove_prefix(4);
        return value;
    }
    std::uint64_t big64() {
        const std::uint64_t high = big32();
        return (high << 32) | big32();
    }
    std::uint64_t big40() {
        const std::uint64_t high = byte();
        return (high << 32) | big32();
    }
    std::uint64_t varint() {
        std::uint64_t value = 0;
        for (int shift = 0; shift < 64; shift += 7) {
            const std::uint8_t part = byte();
            value |= static_cast<std::uint64_t>(part & 127) << shift;
            if (part < 128) return value;
        }
        damaged();
    }
    std::string_view text() { return raw(varint()); }
    std::string string() { return std::string(text()); }
    double number() { return std::bit_cast<double>(big64()); }
    std::string_view raw(std::uint64_t size) {
        need(size);
        const std::string_view part = rest_.substr(0, size);
        rest_.remove_prefix(size);
        return part;
    }
    bool at_end() const { return rest_.empty(); }
    std::size_t left() const { return rest_.size(); }

private:
    void need(std::uint64_t size) const {
        if (rest_.size() < size) damaged();
    }
    [[noreturn]] static void damaged() {
        throw StoreFault("a record of the graph is damaged (it ends too soon)",
                         "run `saggar check`; if it confirms the damage, restore the last backup");
    }
    std::string_view rest_;
};

}  // namespace saggar
