#include "importers/rdf/source_lines.h"

#include <algorithm>

#include "kg/model/text_lines.h"

namespace saggar::rdf {

std::string_view SourceLines::line(std::uint32_t number) const {
    if (!lines_ || at_ > number) {
        input_ = std::make_unique<TextInput>(name_, open_(), untold_);
        lines_ = std::make_unique<LineInput>(*input_);
        at_ = 0;
    }
    std::string_view text;
    while (at_ < number) {
        if (!lines_->next(text)) {
            line_.clear();
            at_ = number;
            return line_;
        }
        ++at_;
        if (at_ == number) line_.assign(text);
    }
    return line_;
}

Place SourceLines::place(const Spot& spot, std::string_view slice) const {
    if (spot.line == 0) return Place{name_, 0, 0, "", 0};
    const std::string_view text = line(spot.line);
    std::size_t begin = 0;
    for (std::uint32_t column = 1; begin < text.size() && column < spot.column; ++column) {
        ++begin;
        while (begin < text.size() && (static_cast<unsigned char>(text[begin]) & 0xC0) == 0x80) ++begin;
    }
    std::size_t end = begin;
    const std::size_t found = slice.empty() ? std::string_view::npos : text.find(slice);
    if (found != std::string_view::npos) {
        begin = found;
        end = found + slice.size();
    } else {
        while (end < text.size() && text[end] != ' ' && text[end] != '\t') ++end;
    }
    return place_in_line(name_, spot.line, text, begin, std::max(end, std::min(begin + 1, text.size())));
}

}  // namespace saggar::rdf
