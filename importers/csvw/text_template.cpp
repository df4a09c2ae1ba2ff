#include "importers/csvw/text_template.h"

#include <fmt/format.h>

#include "importers/csvw/annotated_rows.h"

namespace saggar::csvw {

std::optional<TextTemplate> TextTemplate::parse(std::string_view text, const AnnotatedRows& rows, std::string& why) {
    TextTemplate parsed;
    while (!text.empty()) {
        const std::size_t open = text.find('{');
        Part part;
        part.literal = std::string(text.substr(0, open));
        if (open == std::string_view::npos) {
            parsed.parts_.push_back(std::move(part));
            break;
        }
        const std::size_t close = text.find('}', open);
        if (close == std::string_view::npos) {
            why = "a `{` is never closed";
            return std::nullopt;
        }
        const std::string_view name = text.substr(open + 1, close - open - 1);
        if (name == "_row") {
            part.column = row_number;
        } else if (name == "_sourceRow") {
            part.column = source_row_number;
        } else {
            for (std::size_t i = 0; i < rows.columns().size() && part.column == literal_only; ++i) {
                if (rows.columns()[i].name == name) part.column = i;
            }
            if (part.column == literal_only) {
                why = fmt::format("no column is named \"{}\"", name);
                return std::nullopt;
            }
        }
        parsed.parts_.push_back(std::move(part));
        text.remove_prefix(close + 1);
    }
    return parsed;
}

std::string TextTemplate::expand(const AnnotatedRows& rows) const {
    std::string out;
    for (const Part& part : parts_) {
        out += part.literal;
        if (part.column == literal_only) continue;
        if (part.column == row_number || part.column == source_row_number) {
            out += std::to_string(part.column == row_number ? rows.number() : rows.source_number());
            continue;
        }
        bool first = true;
        for (const std::string_view text : rows.cells()[part.column].texts) {
            if (!first) out += "; ";
            out += text;
            first = false;
        }
    }
    return out;
}

}  // namespace saggar::csvw
