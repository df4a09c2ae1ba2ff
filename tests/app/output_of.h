// What a shell command writes to both its outputs.
#pragma once

#include <catch2/catch.hpp>
#include <cstdio>
#include <string>

namespace saggar::testing {

inline std::string output_of(const std::string& command) {
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe);
    std::string text;
    char buffer[4096];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe)) text.append(buffer, got);
    ::pclose(pipe);
    return text;
}

}  // namespace saggar::testing
