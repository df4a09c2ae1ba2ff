// A written date cut into words, numbers and marks. Used by the readers of written dates only.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace saggar::time {

struct WrittenToken {
    enum class Kind : std::uint8_t {
        number,  // a run of digits
        word,    // a run of ASCII letters, in lower case
        mark,    // any other character; dashes of all kinds become "-", curly apostrophes "'"
        end,
    };
    Kind kind = Kind::end;
    std::string text;
    std::size_t offset = 0;
    std::size_t length = 0;
    bool after_blank = false;   // a blank stands before it
    bool typed_hyphen = false;  // a mark "-" that was the plain hyphen, not a dash

    bool is_number(std::size_t digits) const { return kind == Kind::number && text.size() == digits; }
    bool is_word(std::string_view word) const { return kind == Kind::word && text == word; }
    bool is_mark(char mark) const { return kind == Kind::mark && text.size() == 1 && text[0] == mark; }
    int value() const;  // of a number of up to 4 digits
};

// Ends with one token of kind `end`. Linear.
std::vector<WrittenToken> cut_into_words(std::string_view text);

// 1 to 12 for "march" or "mar"; 0: not a month.
int month_of_word(std::string_view word);
// 21 to 24 for spring, summer, autumn (fall), winter; 0: not a season.
int season_of_word(std::string_view word);
// 17 to 20 for "seventeenth" to "twentieth"; 1 to 4 for "first" to "fourth"; 0: not an ordinal that dates use.
int ordinal_of_word(std::string_view word);
// "designed" for "designed" and "design"; empty: not a label. See WrittenDate::label.
std::string_view label_of_word(std::string_view word);
bool is_about_word(std::string_view word);    // c, ca, circa, about ...
bool is_perhaps_word(std::string_view word);  // probably, possibly ...

}  // namespace saggar::time
