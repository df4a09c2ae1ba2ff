#include "kg/time/read_error.h"

#include <algorithm>

namespace saggar::time {

namespace {

std::uint32_t code_points_in(std::string_view text) {
    return static_cast<std::uint32_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

}  // namespace

Problem problem_of(const ReadError& error, std::string_view text, std::string file, std::uint32_t line) {
    Problem problem;
    problem.id = error.id;
    problem.place.file = std::move(file);
    problem.place.line = line;
    problem.place.text = std::string(text);
    problem.place.column = code_points_in(text.substr(0, error.offset)) + 1;
    problem.place.length = code_points_in(text.substr(std::min(error.offset, text.size()), error.length));
    problem.message = error.reason;
    problem.next_step = error.next_step;
    return problem;
}

}  // namespace saggar::time
