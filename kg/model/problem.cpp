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

// Controls would move the cursor or worse: each is shown as U+FFFD, one sign for one, so that the caret stays right.
std::string without_controls(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const bool c1 = byte == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0;
        if ((byte < 0x20 && byte != '\t') || byte == 0x7F || c1) {
            out += "\uFFFD";
            i += c1;
        } else {
            out += text[i];
        }
    }
    return out;
}

}  // namespace

std::string to_text(const Problem& problem) {
    std::string out = problem.place.file;
    if (problem.place.line) out += fmt::format(":{}", problem.place.line);
    if (problem.place.line && problem.place.column) out += fmt::format(":{}", problem.place.column);
    out += fmt::format("{}{}: {} [{}]\n", out.empty() ? "" : ": ",
                       problem.severity == Severity::error ? "error" : "warning", without_controls(problem.message),
                       problem.id);
    if (problem.place.column && !problem.place.text.empty()) {
        out += fmt::format("    {}\n    {}\n", without_controls(problem.place.text), caret_line(problem.place));
    }
    if (!problem.next_step.empty()) out += fmt::format("    next: {}\n", without_controls(problem.next_step));
    return out;
}

}  // namespace saggar
