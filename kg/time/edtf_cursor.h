// The reader's finger on the text: where it is, what stands there, and the first error it met. Used by the EDTF readers
// only.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "kg/time/read_error.h"

namespace saggar::time {

class EdtfCursor {
public:
    explicit EdtfCursor(std::string_view text) : text_(text) {}

    std::string_view text() const { return text_; }
    std::size_t at() const { return at_; }
    bool at_end() const { return at_ >= text_.size(); }
    // The next byte, or 0 at the end.
    char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
    void advance(std::size_t bytes = 1) { at_ += bytes; }
    bool take(char wanted);
    bool take(std::string_view wanted);
    // The longest run of digits, or of digits and X, from here; it is stepped over.
    std::string_view take_digits();
    std::string_view take_digits_and_x();

    // Conformance level needed so far.
    int level = 0;

    // Records an error (the first one stays) and returns false.
    bool fail(std::string id, std::size_t offset, std::size_t length, std::string reason, std::string next_step);
    // "… is not expected here": takes the whole word or the one character (code point) at the finger as the slice.
    bool fail_unexpected(std::string_view expected);
    const std::optional<ReadError>& error() const { return error_; }

private:
    std::string_view text_;
    std::size_t at_ = 0;
    std::optional<ReadError> error_;
};

}  // namespace saggar::time
