// URI templates (RFC 6570, all four levels), compiled once and expanded for each row.
//
// Variables are texts or lists of texts; associative arrays do not occur in tables. A variable that is not there, or
// null, is undefined and leaves nothing, as the RFC says.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace saggar::csvw {

// The value of a variable: one text, or a list.
struct TemplateValue {
    std::vector<std::string_view> texts;
    bool is_list = false;
};

class UriTemplate {
public:
    // Finds a variable's value; nothing: undefined.
    using Lookup = std::function<std::optional<TemplateValue>(std::string_view name)>;

    // Nothing where the text is no template; `why` says what is wrong with it.
    static std::optional<UriTemplate> parse(std::string_view text, std::string& why);

    std::string expand(const Lookup& lookup) const;

    // The names of all variables, in order.
    std::vector<std::string> variables() const;
    bool has_variables() const { return has_variables_; }
    const std::string& text() const { return text_; }

private:
    struct Variable {
        std::string name;
        std::size_t prefix = 0;  // ":n", code points; 0: whole
        bool explode = false;    // "*"
    };
    // A literal, or an expression with an operator and variables.
    struct Part {
        std::string literal;
        char op = 0;
        std::vector<Variable> variables;
    };

    static bool parse_expression(std::string_view inside, Part& part, std::string& why);
    static void expand_part(const Part& part, const Lookup& lookup, std::string& out);

    std::string text_;
    std::vector<Part> parts_;
    bool has_variables_ = false;
};

// Percent-encodes what may not stand in a URI. `reserved`: also let through reserved characters and %XX.
void append_encoded(std::string_view text, bool reserved, std::string& out);
// The text with %XX decoded; a % that is followed by no two hexadecimal digits stays.
std::string percent_decoded(std::string_view text);

}  // namespace saggar::csvw
