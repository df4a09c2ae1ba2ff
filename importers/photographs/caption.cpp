#include "importers/photographs/caption.h"

#include <fmt/format.h>

#include "importers/claim_rows.h"
#include "importers/line_input.h"
#include "importers/photographs/region.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

class CaptionReader {
public:
    CaptionReader(TextInput& input, const PictureHead* picture) : input_(input), picture_(picture) {}

    Caption read() {
        caption_.places.set_whole(Place{input_.name(), 1, 0, "", 0});
        LineInput lines(input_);
        std::string_view line;
        bool head = true;
        while (lines.next(line)) {
            if (head && field(line, lines.number())) continue;
            head = head && trim(line).empty() && caption_.lines.empty();
            if (!trim(line).empty()) words(line, lines.number());
        }
        return std::move(caption_);
    }

private:
    // A line `column: value`; false where it is none.
    bool field(std::string_view line, std::uint32_t number) {
        const std::size_t colon = line.find(':');
        if (colon == std::string_view::npos) return false;
        const std::string column(trim(line.substr(0, colon)));
        const std::string_view value = trim(line.substr(colon + 1));
        if (column != "source" && column != "private" && !is_source_column(column)) return false;
        const auto begin = static_cast<std::size_t>(value.data() - line.data());
        caption_.places.set(column, place_in_line(input_.name(), number, line, begin, begin + value.size()));
        Source& source = caption_.source;
        if (column == "source") {
            if (auto key = read_source_key(value, column, caption_.places, input_.problems()))
                source.key = std::move(*key);
        } else if (column == "private") {
            source.is_private = read_yes(value, column, caption_.places, input_.problems()).value_or(false);
        } else {
            set_source_field(source, column, value, caption_.places, input_.problems());
        }
        return true;
    }

    void words(std::string_view line, std::uint32_t number) {
        CaptionLine one;
        std::string_view text = trim(line);
        const auto begin = static_cast<std::size_t>(text.data() - line.data());
        one.place = place_in_line(input_.name(), number, line, begin, begin + text.size());
        if (text.substr(0, 5) == "xywh=") {
            const std::string_view at = text.substr(0, text.find_first_of(" \t"));
            check_region(at, place_in_line(input_.name(), number, line, begin, begin + at.size()));
            one.at = at;
            text = trim(text.substr(at.size()));
        }
        one.text = text;
        caption_.lines.push_back(std::move(one));
    }

    void check_region(std::string_view at, Place place) {
        const auto region = read_region(at);
        if (!region) {
            input_.problems().add({"region-invalid", Severity::error, std::move(place),
                                   fmt::format("\"{}\" is not a region", at),
                                   "write left, top, width, height in whole pixels, for example xywh=10,20,30,40"});
        } else if (picture_ && !lies_within(*region, picture_->width, picture_->height)) {
            input_.problems().add({"region-outside", Severity::error, std::move(place),
                                   fmt::format("\"{}\" reaches beyond the picture, which is {} x {}", at,
                                               picture_->width, picture_->height),
                                   "give a region within the picture"});
        }
    }

    TextInput& input_;
    const PictureHead* picture_;
    Caption caption_;
};

}  // namespace

Caption read_caption(TextInput& input, const PictureHead* picture) { return CaptionReader(input, picture).read(); }

}  // namespace saggar
