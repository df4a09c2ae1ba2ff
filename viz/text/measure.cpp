#include "viz/text/measure.h"

#include <unicode/normalizer2.h>
#include <unicode/uchar.h>
#include <unicode/utf8.h>

#include <cstdint>
#include <span>

namespace saggar::viz {

namespace {

#include "viz/text/advance_table.inc"

struct Stretch {
    char32_t first;
    std::span<const std::uint16_t> book, bold;
};

const Stretch kStretches[] = {{0x20, book_0020, bold_0020},
                              {0x384, book_0384, bold_0384},
                              {0x400, book_0400, bold_0400},
                              {0x2010, book_2010, bold_2010}};

constexpr double kUnknownLetter = 900;
constexpr double kWideSign = 1300;

double from_table(char32_t sign, Face face) {
    for (const Stretch& stretch : kStretches) {
        const auto& widths = face == Face::bold ? stretch.bold : stretch.book;
        if (sign >= stretch.first && sign - stretch.first < widths.size()) return widths[sign - stretch.first];
    }
    return 0;
}

bool takes_no_room(UChar32 sign) {
    const auto type = u_charType(sign);
    return type == U_NON_SPACING_MARK || type == U_ENCLOSING_MARK || type == U_FORMAT_CHAR;
}

bool is_wide(UChar32 sign) {
    const auto width = u_getIntPropertyValue(sign, UCHAR_EAST_ASIAN_WIDTH);
    return width == U_EA_WIDE || width == U_EA_FULLWIDTH || u_hasBinaryProperty(sign, UCHAR_EMOJI_PRESENTATION);
}

// First code point of the canonical decomposition; the sign itself where there is none.
UChar32 base_of(UChar32 sign) {
    UErrorCode status = U_ZERO_ERROR;
    const auto* normalizer = icu::Normalizer2::getNFDInstance(status);
    icu::UnicodeString parts;
    if (U_FAILURE(status) || !normalizer->getDecomposition(sign, parts)) return sign;
    return parts.char32At(0);
}

}  // namespace

double sign_advance(char32_t sign, Face face) {
    if (const double width = from_table(sign, face); width > 0) return width;
    const auto code = static_cast<UChar32>(sign);
    if (takes_no_room(code)) return 0;
    if (is_wide(code)) return kWideSign;
    const auto base = static_cast<char32_t>(base_of(code));
    if (base != sign) {
        if (const double width = from_table(base, face); width > 0) return width;
    }
    return kUnknownLetter;
}

double text_width(std::string_view text, double size, Face face) {
    double sum = 0;
    for (std::int32_t at = 0; at < static_cast<std::int32_t>(text.size());) {
        UChar32 c;
        U8_NEXT(text.data(), at, static_cast<std::int32_t>(text.size()), c);
        sum += sign_advance(static_cast<char32_t>(c < 0 ? 0xFFFD : c), face);
    }
    return sum * size / 1000;
}

}  // namespace saggar::viz
