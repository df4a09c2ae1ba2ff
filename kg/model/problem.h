// Problems with a user's data: what is wrong, where, and what to do next.
//
// Bad input is data, not an exception: readers collect problems and go on as far as is useful.
// Faults of the machine or of the caller (disk full, corruption, misuse) are exceptions, see fault.h.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace saggar {

// A place in a text file. Lines and columns count from 1, columns in code points; 0 means "not known".
struct Place {
    std::string file;
    std::uint32_t line = 0;
    std::uint32_t column = 0;
    std::string text;             // the line (or cell) as written, without its line end
    std::uint32_t length = 0;     // how many code points of `text` from `column` are at fault; 0: point only
    std::uint32_t text_from = 1;  // the column of the first code point of `text`: of a very long line a part is kept
};

enum class Severity : std::uint8_t { warning, error };

struct Problem {
    std::string id;  // stable, e.g. "table-unclosed-quote"; tests and documents refer to it
    Severity severity = Severity::error;
    Place place;
    std::string message;    // one sentence, naming the offending text
    std::string next_step;  // one sentence the user can act on
};

// Collects problems; keeps the first `kept` of them and counts the rest.
// Not thread-safe.
class Problems {
public:
    explicit Problems(std::size_t kept = 50) : kept_(kept) {}

    void add(Problem problem);
    bool any_error() const { return errors_ != 0; }
    std::size_t errors() const { return errors_; }
    std::size_t warnings() const { return warnings_; }
    const std::vector<Problem>& list() const { return list_; }
    // How many problems were counted but not kept.
    std::size_t not_kept() const { return errors_ + warnings_ - list_.size(); }

private:
    std::size_t kept_;
    std::size_t errors_ = 0;
    std::size_t warnings_ = 0;
    std::vector<Problem> list_;
};

// The problem as text for a person:
//   file:line:column: error: message [id]
//       the line as written
//           ^~~~
//   next: what to do
std::string to_text(const Problem& problem);

}  // namespace saggar
