// Writes the table of results.
#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "tests/bench/figures.h"

namespace saggar::bench {

// All numbers of one size, by measurement: "make", "load", "raw", "sqlite", "lookup", "chains", "command".
using Results = std::map<std::string, Numbers>;

// Markdown: the machine, the build, one table with a column for each size, and the targets beside it.
std::string results_page(const std::map<std::uint64_t, Results>& by_size);

}  // namespace saggar::bench
