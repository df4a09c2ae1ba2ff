// The help of a verb made to fit the width: two columns stay two columns, sentences are wrapped.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace saggar::app {

// A line of the form "  NAME   words" is wrapped under its words, any other line under its own beginning; examples are
// indented. A name or path longer than the line stands as it is. Cost: linear.
std::string fitted_help(std::string_view help, std::size_t width);

}  // namespace saggar::app
