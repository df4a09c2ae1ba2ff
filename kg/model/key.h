// Keys of entities: `kind:slug`, for example `shape:lantern`.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace saggar {

struct KeyParts {
    std::string_view kind;
    std::string_view slug;
};

// Splits a key. Kind: a-z then a-z, 0-9, '-'. Slug: a-z, 0-9, '.', '_', '-', at most 200 bytes, first one a letter or
// digit. Nothing where the text is not a key. The views point into `key`.
std::optional<KeyParts> split_key(std::string_view key);

inline bool is_key(std::string_view key) {
    return split_key(key).has_value();
}

// Kinds that name records rather than things: they cannot be entity kinds.
bool is_reserved_kind(std::string_view kind);

// A slug from a label: folded to ASCII where the Unicode transliteration knows how, other signs become '-'.
// "Sèvres & Cie." -> "sevres-cie". Empty where nothing is left.
std::string slugify(std::string_view label);

// Text folded for comparison and search: NFKC case folding, marks removed, blanks squeezed. "Sèvres" -> "sevres".
std::string fold(std::string_view text);

// The words of a text, folded, in order; for the search index. Letters and digits, with the marks and soft hyphens in them;
// an ideograph is a word of its own. Strokes and ligatures become plain letters (ł as l, œ as oe).
// Words longer than 60 bytes are cut at a code point boundary.
class WordVisitor {
public:
    virtual ~WordVisitor() = default;
    virtual void word(std::string_view folded, std::size_t byte_offset) = 0;
};
void each_word(std::string_view text, WordVisitor& visitor);

bool is_valid_utf8(std::string_view text);

// How many code points `text` holds (invalid bytes count one each).
std::size_t code_points(std::string_view text);

}  // namespace saggar
