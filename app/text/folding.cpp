#include "app/text/folding.h"

#include <unistd.h>

#include <cstdlib>
#include <sstream>

#include "app/text/layout.h"

namespace saggar::app {

namespace {

// Cells of a text that may hold "ESC [ … m".
std::size_t shown_cells(std::string_view text) {
    std::string shown;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\x1b') {
            i = text.find('m', i);
            if (i == std::string_view::npos) break;
        } else {
            shown += text[i];
        }
    }
    return cells(shown);
}

}  // namespace

std::string folded(std::string_view line, std::size_t width) {
    if (line.size() <= width || shown_cells(line) <= width) return std::string(line);
    const auto first = line.find_first_not_of(' ');
    if (first == std::string_view::npos) return {};
    const std::size_t room = width / 2;
    const std::string indent(std::min(first + 4, room), ' ');
    std::string out(std::min(first, room), ' ');
    std::size_t used = out.size(), blanks = 0;
    bool begun = false;
    for (auto rest = line.substr(first); !rest.empty();) {
        const auto end = rest.find(' ');
        const auto word = rest.substr(0, end);
        const std::size_t size = shown_cells(word);
        if (begun && used + blanks + size > width) {
            out += "\n" + indent;
            used = indent.size();
        } else {
            out += std::string(blanks, ' ');
            used += blanks;
        }
        out += word;
        used += size;
        begun = true;
        if (end == std::string_view::npos) break;
        const auto next = rest.find_first_not_of(' ', end);
        if (next == std::string_view::npos) break;
        blanks = next - end;
        rest.remove_prefix(next);
    }
    return out;
}

bool width_is_known(int descriptor) {
    const char* columns = std::getenv("COLUMNS");
    return (columns != nullptr && std::strtoul(columns, nullptr, 10) > 0) || ::isatty(descriptor) == 1;
}

void tell(std::ostream& err, const std::string& message) {
    const bool known = width_is_known(STDERR_FILENO);
    std::istringstream lines(message);
    for (std::string line; std::getline(lines, line);)
        err << (known ? folded(line, layout_of_terminal().width) : line) << '\n';
}

FoldingBuffer::int_type FoldingBuffer::overflow(int_type c) {
    if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
    const char sign = traits_type::to_char_type(c);
    if (sign == '\n') {
        to_ << folded(line_, width_) << '\n';
        line_.clear();
    } else {
        line_ += sign;
    }
    return to_ ? c : traits_type::eof();
}

int FoldingBuffer::sync() {
    if (!line_.empty()) to_ << folded(line_, width_);
    line_.clear();
    to_.flush();
    return to_ ? 0 : -1;
}

}  // namespace saggar::app
