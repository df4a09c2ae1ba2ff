#include "importers/csvw/uri_template.h"

#include <fmt/format.h>

#include <algorithm>

namespace saggar::csvw {
namespace {

// RFC 6570, appendix A: how each operator joins and names its variables.
struct Operator {
    char sign;
    std::string_view first;
    char separator;
    bool named;
    std::string_view if_empty;
    bool reserved;
};

constexpr Operator template_operators[] = {{0, "", ',', false, "", false},    {'+', "", ',', false, "", true},
                                           {'#', "#", ',', false, "", true},  {'.', ".", '.', false, "", false},
                                           {'/', "/", '/', false, "", false}, {';', ";", ';', true, "", false},
                                           {'?', "?", '&', true, "=", false}, {'&', "&", '&', true, "=", false}};

const Operator& operator_of(char sign) {
    return *std::find_if(std::begin(template_operators), std::end(template_operators),
                         [&](const Operator& one) { return one.sign == sign; });
}

bool is_unreserved(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.' ||
           c == '_' || c == '~';
}

bool is_percent_digit(char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
}

int hex_value(char c) {
    return c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
}

constexpr std::string_view reserved_signs = ":/?#[]@!$&'()*+,;=";

// varname = varchar *( ["."] varchar ), varchar = ALPHA / DIGIT / "_" / pct-encoded. Letters beyond ASCII occur in
// column names and do no harm.
bool is_variable_name(std::string_view name) {
    return !name.empty() && name.front() != '.' && std::all_of(name.begin(), name.end(), [](char c) {
        return is_unreserved(c) || c == '%' || static_cast<unsigned char>(c) >= 0x80;
    });
}

std::string_view code_point_prefix(std::string_view text, std::size_t count) {
    std::size_t end = 0;
    while (end < text.size() && count > 0) {
        do {
            ++end;
        } while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80);
        --count;
    }
    return text.substr(0, end);
}

}  // namespace

void append_encoded(std::string_view text, bool reserved, std::string& out) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const bool triplet = c == '%' && i + 2 < text.size() && is_percent_digit(text[i + 1]) && is_percent_digit(text[i + 2]);
        if (is_unreserved(c) || (reserved && (triplet || reserved_signs.find(c) != std::string_view::npos))) {
            out += c;
        } else {
            constexpr std::string_view digits = "0123456789ABCDEF";
            out += '%';
            out += digits[static_cast<unsigned char>(c) >> 4];
            out += digits[static_cast<unsigned char>(c) & 15];
        }
    }
}

std::string percent_decoded(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '%' && i + 2 < text.size() && is_percent_digit(text[i + 1]) && is_percent_digit(text[i + 2])) {
            out += static_cast<char>(hex_value(text[i + 1]) * 16 + hex_value(text[i + 2]));
            i += 2;
        } else {
            out += text[i];
        }
    }
    return out;
}

std::optional<UriTemplate> UriTemplate::parse(std::string_view text, std::string& why) {
    UriTemplate parsed;
    parsed.text_ = std::string(text);
    while (!text.empty()) {
        const std::size_t brace = text.find_first_of("{}");
        Part part;
        if (brace != 0) {
            append_encoded(text.substr(0, brace), true, part.literal);
            text.remove_prefix(std::min(brace, text.size()));
        } else {
            const std::size_t close = text.find('}');
            if (text.front() == '}' || close == std::string_view::npos) {
                why = text.front() == '}' ? "a `}` stands without its `{`" : "a `{` is never closed";
                return std::nullopt;
            }
            if (!parse_expression(text.substr(1, close - 1), part, why)) return std::nullopt;
            parsed.has_variables_ = true;
            text.remove_prefix(close + 1);
        }
        parsed.parts_.push_back(std::move(part));
    }
    return parsed;
}

bool UriTemplate::parse_expression(std::string_view inside, Part& part, std::string& why) {
    if (!inside.empty() && std::string_view("+#./;?&").find(inside.front()) != std::string_view::npos) {
        part.op = inside.front();
        inside.remove_prefix(1);
    }
    for (bool more = true; more;) {
        const std::size_t comma = inside.find(',');
        std::string_view spec = inside.substr(0, comma);
        more = comma != std::string_view::npos;
        if (more) inside.remove_prefix(comma + 1);
        Variable variable;
        if (!spec.empty() && spec.back() == '*') {
            variable.explode = true;
            spec.remove_suffix(1);
        } else if (const std::size_t colon = spec.find(':'); colon != std::string_view::npos) {
            const std::string_view digits = spec.substr(colon + 1);
            for (const char c : digits) variable.prefix = variable.prefix * 10 + static_cast<std::size_t>(c - '0');
            if (digits.empty() || digits.size() > 4 || digits.front() == '0' ||
                digits.find_first_not_of("0123456789") != std::string_view::npos) {
                why = fmt::format("`:{}` is no length of a prefix", digits);
                return false;
            }
            spec = spec.substr(0, colon);
        }
        if (!is_variable_name(spec)) {
            why = fmt::format("`{}` is no name of a variable", spec);
            return false;
        }
        variable.name = std::string(spec);
        part.variables.push_back(std::move(variable));
    }
    return true;
}

void UriTemplate::expand_part(const Part& part, const Lookup& lookup, std::string& out) {
    if (part.variables.empty()) {
        out += part.literal;
        return;
    }
    const Operator& op = operator_of(part.op);
    bool first = true;
    const auto start_one = [&] {
        if (first) {
            out += op.first;
        } else {
            out += op.separator;
        }
        first = false;
    };
    const auto put_name = [&](const Variable& variable, bool empty) {
        if (!op.named) return;
        out += variable.name;
        if (empty) {
            out += op.if_empty;
        } else {
            out += '=';
        }
    };
    for (const Variable& variable : part.variables) {
        const auto value = lookup(variable.name);
        if (!value || (value->is_list && value->texts.empty())) continue;
        if (!value->is_list) {
            start_one();
            put_name(variable, value->texts.front().empty());
            const std::string_view text = value->texts.front();
            append_encoded(variable.prefix ? code_point_prefix(text, variable.prefix) : text, op.reserved, out);
        } else if (variable.explode) {
            for (const std::string_view text : value->texts) {
                start_one();
                put_name(variable, text.empty());
                append_encoded(text, op.reserved, out);
            }
        } else {
            start_one();
            put_name(variable, false);
            for (std::size_t i = 0; i < value->texts.size(); ++i) {
                if (i) out += ',';
                append_encoded(value->texts[i], op.reserved, out);
            }
        }
    }
}

std::string UriTemplate::expand(const Lookup& lookup) const {
    std::string out;
    for (const Part& part : parts_) expand_part(part, lookup, out);
    return out;
}

std::vector<std::string> UriTemplate::variables() const {
    std::vector<std::string> names;
    for (const Part& part : parts_) {
        for (const Variable& variable : part.variables) names.push_back(variable.name);
    }
    return names;
}

}  // namespace saggar::csvw
