// What is wrong in a text that was to be read as a date, and where.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "kg/model/problem.h"

namespace saggar::time {

// The offending part is text.substr(offset, length), counted in bytes; length 0 points at a place where something is
// missing.
struct ReadError {
    std::string id;  // stable, e.g. "edtf-day"
    std::size_t offset = 0;
    std::size_t length = 0;
    std::string reason;     // one sentence
    std::string next_step;  // one sentence the user can act on
};

// Either a value, or the error that kept the text from being read.
template <class T>
struct Read {
    std::optional<T> value;
    ReadError error;  // meaningful only when there is no value
    explicit operator bool() const { return value.has_value(); }
    const T& operator*() const { return *value; }
    const T* operator->() const { return &*value; }
};

// The error as a problem: `text` is the text that was read, its place is column 1 of `file`:`line` (both may be
// unknown).
Problem problem_of(const ReadError& error, std::string_view text, std::string file = {}, std::uint32_t line = 0);

}  // namespace saggar::time
