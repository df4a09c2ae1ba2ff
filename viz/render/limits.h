// What a drawing program may use. Shared by the parent, which passes the limits, and the programs, which obey them.
#pragma once

#include <cstddef>

namespace saggar::viz {

// More boxes than this are not laid out: layout time grows faster than the square of their number, and nobody can
// read it.
inline constexpr std::size_t kMostNodes = 400;
inline constexpr std::size_t kMostEdges = 2000;

struct WorkLimits {
    std::size_t memory_mib = 1024;
    unsigned cpu_seconds = 20;
};

// Sets the limits for this process (setrlimit); the programs call it first of all. No core file is written.
void obey(const WorkLimits& limits);

}  // namespace saggar::viz
