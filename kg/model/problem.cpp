#include "kg/model/problem.h"

#include <fmt/format.h>

namespace saggar {

void Problems::add(Problem problem) {
    ++(problem.severity == Severity::error ? errors_ : warnings_);
    if (list_.size() < kept_) list_.push_back(std::move(problem));
}

namespace {

// The blanks and carets under the offending part. Tabs stay tabs so that the caret stands right.
std::string caret_line(const Place& place) {
    std::string line;
    std::uint32_t column = place.text_from;
    for (std::size_t i = 0; i < place.text.size() && column < place.column; ++i) {
        const auto byte = static_cast<unsigned char>(place.text[i]);
        if ((byte & 0xC0) == 0x80) continue;
        line += byte == '\t' ? '\t' : ' ';
        ++column;
    }
    line += '^';
    for (std::uint32_t i = 1; i < place.length; ++i) line += '~';
    return line;
}

}  // namespace

std::string to_text(const Problem& problem) {
    std::string out = problem.place.file;
    if (problem.place.line) out += fmt::format(":{}", problem.place.line);
    if (problem.place.line && problem.place.column) out += fmt::format(":{}", problem.place.column);
    out += fmt::format("{}{}: {} [{}]\n", out.empty() ? "" : ": ",
                       problem.severity == Severity::error ? "error" : "warning", problem.message, problem.id);
    if (problem.place.column && !problem.place.text.empty()) {
        out += fmt::format("    {}\n    {}\n", problem.place.text, caret_line(problem.place));
    }
    if (!problem.next_step.empty()) out += fmt::format("    next: {}\n", problem.next_step);
    return out;
}

}  // namespace saggar
