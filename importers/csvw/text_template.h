// Templates of plain text for our annotations: "{name}" stands for the cell of that column as it is, nothing is
// encoded.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace saggar::csvw {

class AnnotatedRows;

class TextTemplate {
public:
    // Nothing where a brace is left open or a name is no column; `why` says which. {_row} and {_sourceRow} are numbers
    // of rows.
    static std::optional<TextTemplate> parse(std::string_view text, const AnnotatedRows& rows, std::string& why);

    // With the cells of the present row; a list's values are joined by "; ", a null cell leaves nothing.
    std::string expand(const AnnotatedRows& rows) const;

private:
    static constexpr std::size_t literal_only = static_cast<std::size_t>(-1);
    static constexpr std::size_t row_number = static_cast<std::size_t>(-2);
    static constexpr std::size_t source_row_number = static_cast<std::size_t>(-3);

    struct Part {
        std::string literal;
        std::size_t column = literal_only;  // the cell after the literal
    };
    std::vector<Part> parts_;
};

}  // namespace saggar::csvw
