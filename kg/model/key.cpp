#include "kg/model/key.h"

#include <unicode/normalizer2.h>
#include <unicode/translit.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>
#include <unicode/utf8.h>

#include <memory>
#include <mutex>

namespace saggar {
namespace {

constexpr std::size_t longest_slug = 200;
constexpr std::size_t longest_word = 60;

bool is_small(char c) {
    return c >= 'a' && c <= 'z';
}
bool is_slug_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_ascii(std::string_view text) {
    for (const char c : text)
        if (static_cast<unsigned char>(c) >= 128) return false;
    return true;
}

icu::UnicodeString from_utf8(std::string_view text) {
    return icu::UnicodeString::fromUTF8(icu::StringPiece(text.data(), static_cast<int32_t>(text.size())));
}

// Marks taken off after decomposition: "e + acute" -> "e". ICU's transliterators are not safe to share between threads.
std::string transliterated(std::string_view text, const char* rules) {
    static std::mutex guard;
    static std::unique_ptr<icu::Transliterator> to_ascii;
    const std::lock_guard lock(guard);
    if (!to_ascii) {
        UErrorCode status = U_ZERO_ERROR;
        to_ascii.reset(icu::Transliterator::createInstance(rules, UTRANS_FORWARD, status));
        if (U_FAILURE(status) || !to_ascii) return std::string(text);
    }
    icu::UnicodeString unicode = from_utf8(text);
    to_ascii->transliterate(unicode);
    std::string out;
    unicode.toUTF8String(out);
    return out;
}

// NFKC case folding, then every mark that a canonical decomposition splits off is dropped.
std::string folded_unicode(std::string_view text) {
    UErrorCode status = U_ZERO_ERROR;
    const icu::Normalizer2* fold_case = icu::Normalizer2::getNFKCCasefoldInstance(status);
    const icu::Normalizer2* decompose = icu::Normalizer2::getNFDInstance(status);
    if (U_FAILURE(status)) return std::string(text);
    const icu::UnicodeString decomposed = decompose->normalize(fold_case->normalize(from_utf8(text), status), status);
    icu::UnicodeString kept;
    for (int32_t i = 0; i < decomposed.length(); i = decomposed.moveIndex32(i, 1)) {
        const UChar32 point = decomposed.char32At(i);
        if (u_charType(point) != U_NON_SPACING_MARK) kept.append(point);
    }
    std::string out;
    kept.toUTF8String(out);
    return out;
}

std::string lower_ascii(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

}  // namespace

std::optional<KeyParts> split_key(std::string_view key) {
    const auto colon = key.find(':');
    if (colon == std::string_view::npos || colon == 0 || colon + 1 == key.size()) return std::nullopt;
    const KeyParts parts{key.substr(0, colon), key.substr(colon + 1)};
    if (parts.kind.size() > 40 || parts.slug.size() > longest_slug || !is_small(parts.kind[0])) return std::nullopt;
    for (const char c : parts.kind)
        if (!is_small(c) && !is_slug_digit(c) && c != '-') return std::nullopt;
    if (!is_small(parts.slug[0]) && !is_slug_digit(parts.slug[0])) return std::nullopt;
    for (const char c : parts.slug)
        if (!is_small(c) && !is_slug_digit(c) && c != '-' && c != '.' && c != '_') return std::nullopt;
    return parts;
}

bool is_reserved_kind(std::string_view kind) {
    return kind == "claim" || kind == "evidence" || kind == "list" || kind == "argument" || kind == "ruling" ||
           kind == "entry";
}

std::string slugify(std::string_view label) {
    const std::string ascii =
        is_ascii(label) ? lower_ascii(label) : transliterated(label, "Any-Latin; Latin-ASCII; Lower");
    std::string out;
    for (const char c : ascii) {
        if (is_small(c) || is_slug_digit(c)) {
            out += c;
        } else if (c != '\'' && !out.empty() && out.back() != '-') {
            out += '-';
        }
        if (out.size() == longest_slug) break;
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out;
}

std::string fold(std::string_view text) {
    const std::string folded = is_ascii(text) ? lower_ascii(text) : folded_unicode(text);
    std::string out;
    for (const char c : folded) {
        const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
        if (!blank) {
            out += c;
        } else if (!out.empty() && out.back() != ' ') {
            out += ' ';
        }
    }
    if (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

namespace {

// Letters with a stroke or a ligature that Unicode does not take apart; people without them on their keys write these instead.
struct PlainLetter {
    std::string_view letter;
    std::string_view plain;
};
constexpr PlainLetter plain_letters[] = {{"\u00f8", "o"}, {"\u0142", "l"},  {"\u0111", "d"},  {"\u0131", "i"},
                                         {"\u00e6", "ae"}, {"\u0153", "oe"}, {"\u00fe", "th"}, {"\u00f0", "d"}};

std::string with_plain_letters(std::string word) {
    for (const PlainLetter& one : plain_letters) {
        for (std::size_t at = 0; (at = word.find(one.letter, at)) != std::string::npos; at += one.plain.size())
            word.replace(at, one.letter.size(), one.plain);
    }
    return word;
}

enum class Sign : std::uint8_t { other, part, silent, whole };

// Marks and invisible joiners belong to the word they stand in; an ideograph is a word, since nothing parts words of them.
Sign sign_of(UChar32 point) {
    if (point < 0) return Sign::other;
    if (u_hasBinaryProperty(point, UCHAR_IDEOGRAPHIC)) return Sign::whole;
    if (u_isalnum(point)) return Sign::part;
    const auto type = u_charType(point);
    if (type == U_NON_SPACING_MARK || type == U_COMBINING_SPACING_MARK || type == U_ENCLOSING_MARK) return Sign::part;
    return point == 0xAD || point == 0x200C || point == 0x200D || point == 0x2060 ? Sign::silent : Sign::other;
}

}  // namespace

void each_word(std::string_view text, WordVisitor& visitor) {
    std::size_t start = 0;
    bool inside = false;
    const auto finish = [&](std::size_t end) {
        std::string word = with_plain_letters(fold(text.substr(start, end - start)));
        if (word.size() > longest_word) {
            std::size_t cut = longest_word;
            while (cut > 0 && (static_cast<unsigned char>(word[cut]) & 0xC0) == 0x80) --cut;
            word.resize(cut);
        }
        if (!word.empty()) visitor.word(word, start);
        inside = false;
    };
    const auto* bytes = reinterpret_cast<const uint8_t*>(text.data());
    const auto size = static_cast<int32_t>(text.size());
    for (int32_t i = 0; i < size;) {
        const int32_t here = i;
        UChar32 point;
        U8_NEXT(bytes, i, size, point);
        const Sign sign = sign_of(point);
        if (inside && (sign == Sign::other || sign == Sign::whole)) finish(static_cast<std::size_t>(here));
        if (sign == Sign::whole || (sign == Sign::part && !inside)) {
            start = static_cast<std::size_t>(here);
            inside = true;
        }
        if (sign == Sign::whole) finish(static_cast<std::size_t>(i));
    }
    if (inside) finish(text.size());
}

bool is_valid_utf8(std::string_view text) {
    const auto* bytes = reinterpret_cast<const uint8_t*>(text.data());
    const auto size = static_cast<int64_t>(text.size());
    for (int64_t i = 0; i < size;) {
        UChar32 point;
        U8_NEXT(bytes, i, size, point);
        if (point < 0) return false;
    }
    return true;
}

std::size_t code_points(std::string_view text) {
    std::size_t count = 0;
    for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    return count;
}

}  // namespace saggar
