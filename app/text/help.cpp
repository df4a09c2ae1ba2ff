#include "app/text/help.h"

#include <algorithm>

#include "app/text/layout.h"

namespace saggar::app {
namespace {

// Where the second column begins; 0: the line has none.
std::size_t second_column(std::string_view line) {
    if (!line.starts_with("  ")) return 0;
    const auto name = line.find_first_not_of(' ');
    const auto gap = name == std::string_view::npos ? name : line.find("  ", name);
    const auto words = gap == std::string_view::npos ? gap : line.find_first_not_of(' ', gap);
    return words == std::string_view::npos ? 0 : words;
}

std::string fitted_line(std::string_view line, std::size_t width) {
    if (cells(line) <= width) return std::string(line);
    if (const auto column = second_column(line); column != 0 && column + 20 < width)
        return std::string(line.substr(0, column)) + wrap(line.substr(column), width, column);
    const auto start = std::min(line.find_first_not_of(' '), line.size());
    const std::size_t hanging = line.substr(start).starts_with("Example:") ? start + 4 : start;
    return std::string(start, ' ') + wrap(line.substr(start), width, hanging);
}

}  // namespace

std::string fitted_help(std::string_view help, std::size_t width) {
    std::string out;
    while (!help.empty()) {
        const auto end = help.find('\n');
        out += fitted_line(help.substr(0, end), width);
        if (end == std::string_view::npos) break;
        out += '\n';
        help.remove_prefix(end + 1);
    }
    return out;
}

}  // namespace saggar::app
