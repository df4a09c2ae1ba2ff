// Runs another program of ours with bytes in and bytes out, and never waits longer than told.
//
// Pictures are laid out and painted by libraries that may crash, hang or end the process. They therefore run in
// programs of their own (saggar-render, saggar-paint), started by posix_spawn and killed when their time is up.
// Thread-safe.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar::viz {

struct ChildLimits {
    double wall_seconds = 20;
    std::size_t output_bytes = std::size_t{256} << 20;
};

// Path of a program that stands beside the running one ("saggar-render" beside saggar). Throws Fault where it is
// missing.
std::string program_beside(std::string_view name);

// Standard output of `program arguments…` fed with `input`. Throws LimitFault where the program crashes, refuses,
// prints too much or runs out of time; the message holds the last line it wrote to standard error. `purpose` stands
// in the message: "laying out the diagram".
std::string run_child(const std::string& program, const std::vector<std::string>& arguments, std::string_view input,
                      std::string_view purpose, const ChildLimits& limits);

}  // namespace saggar::viz
