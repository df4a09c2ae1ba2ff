#include <fmt/format.h>

#include <algorithm>

#include "kg/time/written_point.h"

namespace saggar::time {

const WrittenToken& WrittenCursor::peek(std::size_t ahead) const {
    return tokens_[std::min(index_ + ahead, tokens_.size() - 1)];
}

bool WrittenCursor::take_word(std::string_view word) {
    if (!peek().is_word(word)) return false;
    ++index_;
    return true;
}

bool WrittenCursor::take_mark(char mark) {
    if (!peek().is_mark(mark)) return false;
    ++index_;
    return true;
}

std::size_t WrittenCursor::end_of_last() const {
    if (index_ == 0) return 0;
    const WrittenToken& last = tokens_[std::min(index_, tokens_.size()) - 1];
    return last.offset + last.length;
}

bool WrittenCursor::fail(std::string id, std::size_t offset, std::string reason, std::string next_step) {
    if (!error_) {
        const std::size_t end = std::max(end_of_last(), offset);
        error_ = ReadError{std::move(id), offset, end - offset, std::move(reason), std::move(next_step)};
    }
    return false;
}

bool WrittenCursor::fail_here() {
    if (error_) return false;
    const WrittenToken& token = peek();
    const std::string next_step = "Write it as EDTF, or as one of the forms the documentation lists.";
    if (at_end()) {
        error_ = ReadError{"written-short", token.offset, 0, "The date stops too early.", next_step};
    } else {
        error_ = ReadError{"written-unread", token.offset, token.length,
                           fmt::format("\"{}\" is not understood here.", text_.substr(token.offset, token.length)),
                           next_step};
    }
    return false;
}

}  // namespace saggar::time
