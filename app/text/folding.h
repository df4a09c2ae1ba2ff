// The last guard of the width: a line that is still wider than the terminal is broken at blanks.
//
// Verbs wrap what they print where they know how; what slips through (a heading with an id, a long figure) is broken
// here, with its own indentation and four blanks more. A word wider than the line stands alone: keys are copied whole.
// Colour takes no cells. Only where the width is known: on a terminal, or with COLUMNS set; a pipe gets whole lines.
#pragma once

#include <ostream>
#include <streambuf>
#include <string>

namespace saggar::app {

std::string folded(std::string_view line, std::size_t width);

// Is the width of this file descriptor known?
bool width_is_known(int descriptor);

// A message of the program to standard error, each line folded where the width is known.
void tell(std::ostream& err, const std::string& message);

// Passes lines on to `to`, folded. What stands after the last line end is passed on at the end or when flushed.
class FoldingBuffer : public std::streambuf {
public:
    FoldingBuffer(std::ostream& to, std::size_t width) : to_(to), width_(width) {}
    ~FoldingBuffer() override { sync(); }

protected:
    int_type overflow(int_type c) override;
    int sync() override;

private:
    std::ostream& to_;
    std::size_t width_;
    std::string line_;
};

}  // namespace saggar::app
