// One point of a written date: a day, month, season, year, decade, century, or a named part of one of them.
//
// WrittenCursor walks over the words; read_point reads one point at it. Used by the readers of written dates only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/time/edtf.h"
#include "kg/time/read_error.h"
#include "kg/time/written_words.h"

namespace saggar::time {

class WrittenCursor {
public:
    explicit WrittenCursor(std::string_view text) : text_(text), tokens_(cut_into_words(text)) {}

    std::string_view text() const { return text_; }
    const WrittenToken& peek(std::size_t ahead = 0) const;
    std::size_t index() const { return index_; }
    void go_to(std::size_t index) { index_ = index; }
    void advance(std::size_t tokens = 1) { index_ += tokens; }
    bool at_end() const { return peek().kind == WrittenToken::Kind::end; }
    bool take_word(std::string_view word);
    bool take_mark(char mark);
    // Where the words before the cursor end, in bytes.
    std::size_t end_of_last() const;

    // Records an error about the text from `offset` to the end of the last word taken; the first error stays. False.
    bool fail(std::string id, std::size_t offset, std::string reason, std::string next_step);
    // The next word is not understood.
    bool fail_here();
    const std::optional<ReadError>& error() const { return error_; }

private:
    std::string_view text_;
    std::vector<WrittenToken> tokens_;
    std::size_t index_ = 0;
    std::optional<ReadError> error_;
};

struct WrittenPoint {
    Date first;
    Date last;                  // same as first unless `stretch`
    bool stretch = false;       // a run of years that EDTF has no single date for: early 1950s, late 19th century
    bool decade = false;        // "1930s"
    bool year_missing = false;  // "March" of "March-May 1948": first.year is to be filled in
    Qualifier before = Qualifier::none;  // words in front: ca., probably
    Qualifier after = Qualifier::none;   // "?" behind
    std::size_t offset = 0;
};

// Whether a point can start here (a number, a month, "early", "ca." ...).
bool point_can_start(const WrittenCursor& cursor);
bool read_point(WrittenCursor& cursor, WrittenPoint& point);
// The second point of a range or choice, which may be short: 34 after 1931, 40s after 1930s.
bool read_second_point(WrittenCursor& cursor, const WrittenPoint& first, WrittenPoint& point);

// A year of up to four digits, 0 or later.
Date date_of_year(int year);

}  // namespace saggar::time
