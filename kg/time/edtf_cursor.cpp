#include "kg/time/edtf_cursor.h"

#include <fmt/format.h>

namespace saggar::time {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
bool is_continuation(char c) {
    return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

std::string advice_for(std::string_view slice) {
    if (is_blank(slice[0])) return "Remove the blank: EDTF has none.";
    if (slice == "unknown") return "Leave the end empty, as in /1985.";
    if (slice == "open") return "Write two full stops for an open end, as in 1985/..";
    if (slice == "u" || slice == "uu" || slice == "x" || slice == "xx") return "Write X for a digit that is not known.";
    if (slice == "z") return "Write Z, a capital letter, for universal time.";
    if (slice == "y") return "Write Y, a capital letter, before a year of five or more digits.";
    if (slice == "+") return "Leave the sign out; years after year 0 have none.";
    return "Correct it, or put the words in the remark and leave the date empty.";
}

}  // namespace

bool EdtfCursor::take(char wanted) {
    if (peek() != wanted || at_end()) return false;
    ++at_;
    return true;
}

bool EdtfCursor::take(std::string_view wanted) {
    if (text_.substr(at_, wanted.size()) != wanted) return false;
    at_ += wanted.size();
    return true;
}

std::string_view EdtfCursor::take_digits() {
    const std::size_t start = at_;
    while (is_digit(peek())) ++at_;
    return text_.substr(start, at_ - start);
}

std::string_view EdtfCursor::take_digits_and_x() {
    const std::size_t start = at_;
    while (is_digit(peek()) || peek() == 'X') ++at_;
    return text_.substr(start, at_ - start);
}

bool EdtfCursor::fail(std::string id, std::size_t offset, std::size_t length, std::string reason,
                      std::string next_step) {
    if (!error_) error_ = ReadError{std::move(id), offset, length, std::move(reason), std::move(next_step)};
    return false;
}

bool EdtfCursor::fail_unexpected(std::string_view expected) {
    if (at_end()) {
        return fail("edtf-short", at_, 0, fmt::format("The date stops too early; {} should follow.", expected),
                    "Complete it, or write less precisely: 1948, 1948-03 and 1948-03-12 are all dates.");
    }
    std::size_t length = 1;
    if (is_letter(peek())) {
        while (is_letter(peek(length))) ++length;
    } else {
        while (is_continuation(peek(length)) && at_ + length < text_.size()) ++length;
    }
    const std::string_view slice = text_.substr(at_, length);
    const std::string shown = is_blank(slice[0]) ? std::string("a blank") : fmt::format("\"{}\"", slice);
    return fail("edtf-unexpected", at_, length, fmt::format("Found {} where {} should stand.", shown, expected),
                advice_for(slice));
}

}  // namespace saggar::time
