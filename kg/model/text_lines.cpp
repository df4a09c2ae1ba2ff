#include "kg/model/text_lines.h"

#include <algorithm>

#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::size_t longest_shown_line = 400;  // bytes

std::size_t code_point_start(std::string_view text, std::size_t at) {
    at = std::min(at, text.size());
    while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) --at;
    return at;
}

}  // namespace

std::size_t TextLines::index_of(std::size_t offset) const {
    if (starts_.empty()) {
        starts_.push_back(0);
        for (std::size_t at = text_.find('\n'); at != std::string_view::npos; at = text_.find('\n', at + 1)) {
            starts_.push_back(at + 1);
        }
    }
    const auto after = std::upper_bound(starts_.begin(), starts_.end(), std::min(offset, text_.size()));
    return static_cast<std::size_t>(after - starts_.begin()) - 1;
}

std::uint32_t TextLines::line_of(std::size_t offset) const {
    return first_line_ + static_cast<std::uint32_t>(index_of(offset));
}

Place TextLines::place(std::size_t begin, std::size_t end) const {
    begin = std::min(begin, text_.size());
    const std::size_t index = index_of(begin);
    const std::size_t start = starts_[index];
    std::size_t stop = index + 1 < starts_.size() ? starts_[index + 1] - 1 : text_.size();
    return place_in_line(file_, first_line_ + static_cast<std::uint32_t>(index), text_.substr(start, stop - start),
                         begin - start, std::max(begin, end) - start);
}

Place place_in_line(std::string_view file, std::uint32_t number, std::string_view line, std::size_t begin,
                    std::size_t end) {
    while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.remove_suffix(1);
    begin = std::min(begin, line.size());
    end = std::clamp(end, begin, line.size());
    Place place;
    place.file = std::string(file);
    place.line = number;
    place.column = static_cast<std::uint32_t>(code_points(line.substr(0, begin))) + 1;
    place.length = static_cast<std::uint32_t>(code_points(line.substr(begin, end - begin)));
    if (line.size() > longest_shown_line) {
        std::size_t from = begin < longest_shown_line / 2 ? 0 : code_point_start(line, begin - longest_shown_line / 4);
        place.text_from = static_cast<std::uint32_t>(code_points(line.substr(0, from))) + 1;
        line = line.substr(from, code_point_start(line, from + longest_shown_line) - from);
        const auto last = place.text_from + static_cast<std::uint32_t>(code_points(line));
        place.length = std::min(place.length, last - std::min(last, place.column));
    }
    place.text = std::string(line);
    return place;
}

std::string_view sign_at(std::string_view text, std::size_t at) {
    std::size_t end = at + 1;
    while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) ++end;
    return text.substr(at, end - at);
}

}  // namespace saggar
