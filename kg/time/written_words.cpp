#include "kg/time/written_words.h"

#include <algorithm>
#include <array>
#include <utility>

namespace saggar::time {

namespace {

bool is_ascii_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_ascii_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::size_t length_of_character(std::string_view rest) {
    std::size_t length = 1;
    while (length < rest.size() && (static_cast<unsigned char>(rest[length]) & 0xC0) == 0x80) ++length;
    return length;
}

// The blank at the start of the rest, as a length; 0: none. The no-break space counts.
std::size_t blank_length(std::string_view rest) {
    if (rest[0] == ' ' || rest[0] == '\t' || rest[0] == '\n' || rest[0] == '\r') return 1;
    return rest.substr(0, 2) == "\xC2\xA0" ? 2 : 0;
}

constexpr std::string_view dashes[] = {"\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"};

std::string plain_mark(std::string_view character) {
    if (std::find(std::begin(dashes), std::end(dashes), character) != std::end(dashes)) return "-";
    if (character == "\u2019") return "'";
    return std::string(character);
}

WrittenToken token_at(std::string_view rest) {
    WrittenToken token;
    std::size_t length = 0;
    if (is_ascii_digit(rest[0])) {
        token.kind = WrittenToken::Kind::number;
        while (length < rest.size() && is_ascii_digit(rest[length])) ++length;
        token.text = std::string(rest.substr(0, length));
    } else if (is_ascii_letter(rest[0])) {
        token.kind = WrittenToken::Kind::word;
        while (length < rest.size() && is_ascii_letter(rest[length]))
            token.text += static_cast<char>(rest[length++] | 0x20);
    } else {
        token.kind = WrittenToken::Kind::mark;
        length = length_of_character(rest);
        token.text = plain_mark(rest.substr(0, length));
        token.typed_hyphen = rest[0] == '-';
    }
    token.length = length;
    return token;
}

template <class Value, std::size_t size>
Value look_up(const std::array<std::pair<std::string_view, Value>, size>& table, std::string_view word,
              Value otherwise) {
    for (const auto& row : table) {
        if (row.first == word) return row.second;
    }
    return otherwise;
}

using Number = std::pair<std::string_view, int>;
using Label = std::pair<std::string_view, std::string_view>;

}  // namespace

int WrittenToken::value() const {
    int number = 0;
    for (const char digit : text) number = number * 10 + (digit - '0');
    return number;
}

std::vector<WrittenToken> cut_into_words(std::string_view text) {
    std::vector<WrittenToken> tokens;
    std::size_t at = 0;
    bool after_blank = false;
    while (at < text.size()) {
        if (const std::size_t blank = blank_length(text.substr(at))) {
            at += blank;
            after_blank = true;
            continue;
        }
        WrittenToken token = token_at(text.substr(at));
        token.offset = at;
        token.after_blank = after_blank;
        after_blank = false;
        at += token.length;
        tokens.push_back(std::move(token));
    }
    WrittenToken end;
    end.offset = tokens.empty() ? text.size() : tokens.back().offset + tokens.back().length;
    end.after_blank = after_blank;
    tokens.push_back(end);
    return tokens;
}

int month_of_word(std::string_view word) {
    static constexpr std::array<Number, 24> months{
        {{"january", 1}, {"february", 2}, {"march", 3},     {"april", 4},    {"may", 5},       {"june", 6},
         {"july", 7},    {"august", 8},   {"september", 9}, {"october", 10}, {"november", 11}, {"december", 12},
         {"jan", 1},     {"feb", 2},      {"mar", 3},       {"apr", 4},      {"jun", 6},       {"jul", 7},
         {"aug", 8},     {"sep", 9},      {"sept", 9},      {"oct", 10},     {"nov", 11},      {"dec", 12}}};
    return look_up(months, word, 0);
}

int season_of_word(std::string_view word) {
    static constexpr std::array<Number, 5> seasons{
        {{"spring", 21}, {"summer", 22}, {"autumn", 23}, {"fall", 23}, {"winter", 24}}};
    return look_up(seasons, word, 0);
}

int ordinal_of_word(std::string_view word) {
    static constexpr std::array<Number, 8> ordinals{{{"first", 1},
                                                     {"second", 2},
                                                     {"third", 3},
                                                     {"fourth", 4},
                                                     {"seventeenth", 17},
                                                     {"eighteenth", 18},
                                                     {"nineteenth", 19},
                                                     {"twentieth", 20}}};
    return look_up(ordinals, word, 0);
}

std::string_view label_of_word(std::string_view word) {
    static constexpr std::array<Label, 24> labels{{{"designed", "designed"},
                                                   {"design", "designed"},
                                                   {"modelled", "modelled"},
                                                   {"modeled", "modelled"},
                                                   {"introduced", "introduced"},
                                                   {"introduction", "introduced"},
                                                   {"launched", "introduced"},
                                                   {"made", "made"},
                                                   {"manufactured", "made"},
                                                   {"manufacture", "made"},
                                                   {"produced", "made"},
                                                   {"production", "made"},
                                                   {"executed", "made"},
                                                   {"dropped", "dropped"},
                                                   {"discontinued", "dropped"},
                                                   {"withdrawn", "dropped"},
                                                   {"registered", "registered"},
                                                   {"patented", "patented"},
                                                   {"patent", "patented"},
                                                   {"decorated", "decorated"},
                                                   {"commissioned", "commissioned"},
                                                   {"sold", "sold"},
                                                   {"retailed", "sold"},
                                                   {"acquired", "acquired"}}};
    return look_up(labels, word, std::string_view());
}

bool is_about_word(std::string_view word) {
    static constexpr std::string_view words[] = {"c",     "ca",     "circa",  "cca",
                                                 "about", "around", "approx", "approximately"};
    return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

bool is_perhaps_word(std::string_view word) {
    static constexpr std::string_view words[] = {"probably", "prob", "possibly", "poss", "perhaps", "maybe"};
    return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

}  // namespace saggar::time
