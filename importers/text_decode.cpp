#include "importers/text_decode.h"

#include <cstring>

namespace saggar {
namespace {

constexpr char16_t windows_1252_80_to_9f[32] = {0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                                0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0,      0x017D, 0,
                                                0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                                0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

// How many of the first bytes are plain ASCII without NUL, eight at a time.
std::size_t plain_ascii(std::string_view bytes) {
    std::size_t at = 0;
    while (at + 8 <= bytes.size()) {
        std::uint64_t word;
        std::memcpy(&word, bytes.data() + at, 8);
        const std::uint64_t zero_byte = (word - 0x0101010101010101u) & ~word & 0x8080808080808080u;
        if ((word & 0x8080808080808080u) | zero_byte) break;
        at += 8;
    }
    while (at < bytes.size() && static_cast<signed char>(bytes[at]) > 0) ++at;
    return at;
}

struct Sequence {
    std::size_t length = 0;  // of the well-formed sequence at the start; 0: there is none
    bool cut = false;        // the bytes end before it can be told
};

// Table 3-7 of the Unicode Standard: which second bytes may follow which first byte.
Sequence well_formed(std::string_view bytes) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(bytes[i]); };
    const std::uint8_t lead = byte(0);
    std::size_t length = 0;
    std::uint8_t low = 0x80;
    std::uint8_t high = 0xBF;
    if (lead >= 0xC2 && lead <= 0xDF) {
        length = 2;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
        length = 3;
        if (lead == 0xE0) low = 0xA0;
        if (lead == 0xED) high = 0x9F;
    } else if (lead >= 0xF0 && lead <= 0xF4) {
        length = 4;
        if (lead == 0xF0) low = 0x90;
        if (lead == 0xF4) high = 0x8F;
    } else {
        return {};
    }
    for (std::size_t i = 1; i < length; ++i) {
        if (i == bytes.size()) return {0, true};
        if (byte(i) < low || byte(i) > high) return {};
        low = 0x80;
        high = 0xBF;
    }
    return {length, false};
}

}  // namespace

char32_t windows_1252(std::uint8_t byte) {
    return byte >= 0xA0 ? byte : windows_1252_80_to_9f[byte - 0x80];
}

void append_utf8(char32_t point, std::string& out) {
    if (point < 0x80) {
        out += static_cast<char>(point);
        return;
    }
    const int more = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3;
    constexpr std::uint8_t leads[] = {0, 0xC0, 0xE0, 0xF0};
    out += static_cast<char>(leads[more] | (point >> (6 * more)));
    for (int i = more - 1; i >= 0; --i) out += static_cast<char>(0x80 | ((point >> (6 * i)) & 0x3F));
}

void TextDecoder::odd(std::uint8_t byte, std::string& out) {
    const OddByte here{byte, produced_ + (out.size() - out_start_)};
    const char32_t point = byte >= 0x80 ? windows_1252(byte) : 0;
    if (point != 0) {
        ++converted_;
        if (!first_converted_) first_converted_ = here;
        append_utf8(point, out);
    } else {
        if (!first_refused_) first_refused_ = here;
        append_utf8(0xFFFD, out);
    }
}

void TextDecoder::decode(std::string_view bytes, bool last, std::string& out) {
    while (!bytes.empty()) {
        const std::size_t plain = plain_ascii(bytes);
        out.append(bytes.data(), plain);
        bytes.remove_prefix(plain);
        if (bytes.empty()) break;
        const Sequence sequence = well_formed(bytes);
        if (sequence.cut && !last) break;
        if (sequence.length) {
            out.append(bytes.data(), sequence.length);
            bytes.remove_prefix(sequence.length);
        } else {
            odd(static_cast<std::uint8_t>(bytes.front()), out);
            bytes.remove_prefix(1);
        }
    }
    waiting_.assign(bytes.data(), bytes.size());
}

void TextDecoder::feed(std::string_view bytes, std::string& out) {
    out_start_ = out.size();
    std::string joined;
    if (!waiting_.empty()) {
        joined = waiting_;
        joined += bytes;
        bytes = joined;
    }
    if (!started_) {
        if (bytes.size() < 4) {  // wait until a mark can be told
            waiting_.assign(bytes.data(), bytes.size());
            return;
        }
        started_ = true;
        using namespace std::string_view_literals;
        if (bytes.substr(0, 4) == "\xFF\xFE\0\0"sv || bytes.substr(0, 4) == "\0\0\xFE\xFF"sv) {
            other_encoding_ = "UTF-32";
        } else if (bytes.substr(0, 2) == "\xFF\xFE"sv || bytes.substr(0, 2) == "\xFE\xFF"sv) {
            other_encoding_ = "UTF-16";
        }
        if (bytes.substr(0, 3) == "\xEF\xBB\xBF"sv) bytes.remove_prefix(3);
    }
    decode(bytes, false, out);
    produced_ += out.size() - out_start_;
}

void TextDecoder::finish(std::string& out) {
    out_start_ = out.size();
    std::string rest;
    rest.swap(waiting_);
    std::string_view bytes = rest;
    if (!started_) {
        started_ = true;
        if (bytes.substr(0, 2) == "\xFF\xFE" || bytes.substr(0, 2) == "\xFE\xFF") other_encoding_ = "UTF-16";
        if (bytes.substr(0, 3) == "\xEF\xBB\xBF") bytes.remove_prefix(3);
    }
    decode(bytes, true, out);
    produced_ += out.size() - out_start_;
}

}  // namespace saggar
