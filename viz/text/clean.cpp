#include "viz/text/clean.h"

#include <unicode/uchar.h>
#include <unicode/utf8.h>

#include <cstdint>

namespace saggar::viz {

namespace {

constexpr UChar32 kReplacement = 0xFFFD;

bool turns_reading_order(UChar32 c) { return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069); }

bool cannot_be_shown(UChar32 c) {
    return c < 0x20 || (c >= 0x7F && c < 0xA0) || (c & 0xFFFE) == 0xFFFE || (c >= 0xFDD0 && c <= 0xFDEF) ||
           turns_reading_order(c);
}

bool is_blank(UChar32 c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == 0x0B || c == 0x0C || c == 0x85 || c == 0x2028 ||
           c == 0x2029;
}

void append(std::string& out, UChar32 c) {
    char piece[U8_MAX_LENGTH];
    std::int32_t length = 0;
    U8_APPEND_UNSAFE(piece, length, c);
    out.append(piece, static_cast<std::size_t>(length));
}

UChar32 next_sign(std::string_view text, std::int32_t& at) {
    UChar32 c;
    U8_NEXT(text.data(), at, static_cast<std::int32_t>(text.size()), c);
    return c < 0 ? kReplacement : c;
}

bool runs_right_to_left(UChar32 c) {
    const auto direction = u_charDirection(c);
    return direction == U_RIGHT_TO_LEFT || direction == U_RIGHT_TO_LEFT_ARABIC;
}

}  // namespace

std::string clean_line(std::string_view bytes) {
    std::string out;
    out.reserve(bytes.size());
    bool blank_waits = false;
    for (std::int32_t at = 0; at < static_cast<std::int32_t>(bytes.size());) {
        const UChar32 c = next_sign(bytes, at);
        if (is_blank(c)) {
            blank_waits = !out.empty();
            continue;
        }
        if (blank_waits) out += ' ';
        blank_waits = false;
        append(out, cannot_be_shown(c) ? kReplacement : c);
    }
    return out;
}

bool reads_right_to_left(std::string_view text) {
    for (std::int32_t at = 0; at < static_cast<std::int32_t>(text.size());) {
        const UChar32 c = next_sign(text, at);
        if (runs_right_to_left(c)) return true;
        if (u_charDirection(c) == U_LEFT_TO_RIGHT) return false;
    }
    return false;
}

bool holds_right_to_left(std::string_view text) {
    for (std::int32_t at = 0; at < static_cast<std::int32_t>(text.size());) {
        if (runs_right_to_left(next_sign(text, at))) return true;
    }
    return false;
}

}  // namespace saggar::viz
