#include "importers/csvw/number_format.h"

#include <fmt/format.h>

#include <vector>

namespace saggar::csvw {
namespace {

constexpr std::string_view per_mille = "\xE2\x80\xB0";
constexpr int largest_exponent = 400;

bool is_decimal_digit(char c) {
    return c >= '0' && c <= '9';
}

bool take(std::string_view& text, std::string_view start) {
    if (start.empty() || text.substr(0, start.size()) != start) return false;
    text.remove_prefix(start.size());
    return true;
}

// The parts of a number as written.
struct NumberParts {
    bool negative = false;
    bool plus = false;
    std::string integer;
    std::vector<std::size_t> groups;  // sizes from left to right; one where there are no separators
    std::string fraction;
    bool has_point = false;
    bool has_exponent = false;
    bool exponent_sign = false;
    bool exponent_negative = false;
    std::string exponent;
    std::string suffix;
};

std::optional<NumberParts> split_number(std::string_view text, const NumberFormat& format, std::string& why) {
    NumberParts parts;
    if (take(text, "-")) {
        parts.negative = true;
    } else if (take(text, "+")) {
        parts.plus = true;
    }
    std::size_t group = 0;
    while (!text.empty()) {
        if (is_decimal_digit(text.front())) {
            parts.integer += text.front();
            ++group;
            text.remove_prefix(1);
        } else if (take(text, format.group)) {
            if (group == 0) {
                why = "group separators stand side by side, or before the first digit";
                return std::nullopt;
            }
            parts.groups.push_back(group);
            group = 0;
        } else {
            break;
        }
    }
    if (group == 0 && !parts.groups.empty()) {
        why = "a group separator stands after the last digit";
        return std::nullopt;
    }
    parts.groups.push_back(group);
    if (take(text, format.decimal)) {
        parts.has_point = true;
        while (!text.empty() && is_decimal_digit(text.front())) {
            parts.fraction += text.front();
            text.remove_prefix(1);
        }
    }
    if (!text.empty() && (text.front() == 'E' || text.front() == 'e')) {
        parts.has_exponent = true;
        text.remove_prefix(1);
        if (!text.empty() && (text.front() == '+' || text.front() == '-')) {
            parts.exponent_sign = true;
            parts.exponent_negative = text.front() == '-';
            text.remove_prefix(1);
        }
        while (!text.empty() && is_decimal_digit(text.front())) {
            parts.exponent += text.front();
            text.remove_prefix(1);
        }
        if (parts.exponent.empty()) {
            why = "the exponent has no digits";
            return std::nullopt;
        }
    }
    if (take(text, "%")) {
        parts.suffix = "%";
    } else if (take(text, per_mille)) {
        parts.suffix = std::string(per_mille);
    }
    if (!text.empty() || (parts.integer.empty() && parts.fraction.empty())) {
        why = text.empty() ? "it has no digits" : fmt::format("`{}` is no part of a number here", text);
        return std::nullopt;
    }
    return parts;
}

bool groups_fit(const NumberParts& parts, const NumberPattern& pattern) {
    if (pattern.primary_group == 0) return parts.groups.size() == 1;
    std::size_t left = parts.integer.size();
    std::vector<std::size_t> wanted;
    for (std::size_t size = pattern.primary_group; left > size; size = pattern.secondary_group) {
        wanted.insert(wanted.begin(), size);
        left -= size;
    }
    wanted.insert(wanted.begin(), left);
    return parts.groups == wanted;
}

bool fits(const NumberParts& parts, const NumberPattern& pattern, std::string& why) {
    if (parts.integer.size() < pattern.least_integer) {
        why = fmt::format("the pattern wants at least {} digits before the point", pattern.least_integer);
    } else if (!groups_fit(parts, pattern)) {
        why = "the digits are not grouped as the pattern wants";
    } else if (parts.fraction.size() < pattern.least_fraction || parts.fraction.size() > pattern.most_fraction) {
        why = pattern.least_fraction == pattern.most_fraction
                  ? fmt::format("the pattern wants {} digits after the point", pattern.most_fraction)
                  : fmt::format("the pattern wants {} to {} digits after the point", pattern.least_fraction,
                                pattern.most_fraction);
    } else if (parts.has_point && parts.fraction.empty()) {
        why = "no digits follow the point";
    } else if (parts.has_exponent != pattern.exponent || parts.exponent.size() < pattern.least_exponent) {
        why = pattern.exponent ? "the pattern wants an exponent" : "the pattern has no exponent";
    } else if (pattern.exponent_plus && !parts.exponent_sign) {
        why = "the pattern wants a sign on the exponent";
    } else if (parts.suffix != pattern.suffix) {
        why = pattern.suffix.empty() ? fmt::format("the pattern has no `{}`", parts.suffix)
                                     : fmt::format("the pattern wants `{}`", pattern.suffix);
    } else if (pattern.plus && !parts.plus && !parts.negative) {
        why = "the pattern wants a sign";
    } else if (!pattern.plus && parts.plus) {
        why = "the pattern has no plus sign";
    } else {
        return true;
    }
    return false;
}

// Puts the point where exponent and suffix move it, and takes needless zeros off the front.
std::optional<std::string> plain_decimal(const NumberParts& parts, std::string& why) {
    int shift = parts.suffix.empty() ? 0 : parts.suffix == "%" ? -2 : -3;
    if (parts.has_exponent) {
        int exponent = 0;
        for (const char c : parts.exponent) {
            exponent = exponent * 10 + (c - '0');
            if (exponent > largest_exponent) {
                why = "the exponent is too large";
                return std::nullopt;
            }
        }
        shift += parts.exponent_negative ? -exponent : exponent;
    }
    std::string digits = parts.integer + parts.fraction;
    auto point = static_cast<int>(parts.integer.size()) + shift;
    if (point < 0) {
        digits.insert(0, static_cast<std::size_t>(-point), '0');
        point = 0;
    }
    if (static_cast<std::size_t>(point) > digits.size())
        digits.append(static_cast<std::size_t>(point) - digits.size(), '0');
    std::string integer = digits.substr(0, static_cast<std::size_t>(point));
    const std::string fraction = digits.substr(static_cast<std::size_t>(point));
    integer.erase(0, std::min(integer.find_first_not_of('0'), integer.size()));
    if (integer.empty()) integer = "0";
    std::string out = fraction.empty() ? integer : integer + "." + fraction;
    if (parts.negative && out.find_first_not_of("0.") != std::string::npos) out.insert(0, 1, '-');
    return out;
}

}  // namespace

std::optional<NumberPattern> NumberPattern::parse(std::string_view text, std::string_view decimal,
                                                  std::string_view group) {
    NumberPattern pattern;
    text = text.substr(0, text.find(';'));
    if (take(text, "+")) {
        pattern.plus = true;
    } else {
        take(text, "-");
    }
    std::size_t digits = 0;    // of the integer part so far
    std::size_t in_group = 0;  // digits since the last separator
    bool zeros = false;
    bool grouped = false;
    for (;;) {
        if (take(text, group)) {
            if (in_group == 0) return std::nullopt;
            if (grouped) pattern.secondary_group = in_group;
            grouped = true;
            in_group = 0;
        } else if (text.empty() || (text.front() != '#' && text.front() != '0')) {
            break;
        } else {
            if (text.front() == '#' && zeros) return std::nullopt;
            zeros = zeros || text.front() == '0';
            pattern.least_integer += text.front() == '0';
            ++digits;
            ++in_group;
            text.remove_prefix(1);
        }
    }
    if (grouped) {
        if (in_group == 0) return std::nullopt;
        pattern.primary_group = in_group;
        if (pattern.secondary_group == 0) pattern.secondary_group = in_group;
    }
    if (take(text, decimal)) {
        bool optional = false;
        while (!text.empty() && (text.front() == '#' || text.front() == '0')) {
            if (text.front() == '0' && optional) return std::nullopt;
            optional = optional || text.front() == '#';
            pattern.least_fraction += text.front() == '0';
            ++pattern.most_fraction;
            text.remove_prefix(1);
        }
    }
    if (digits == 0 && pattern.most_fraction == 0) return std::nullopt;
    if (take(text, "E")) {
        pattern.exponent = true;
        pattern.exponent_plus = take(text, "+");
        while (take(text, "0")) ++pattern.least_exponent;
        if (pattern.least_exponent == 0) return std::nullopt;
    }
    if (take(text, "%")) {
        pattern.suffix = "%";
    } else if (take(text, per_mille)) {
        pattern.suffix = std::string(per_mille);
    }
    return text.empty() ? std::optional(pattern) : std::nullopt;
}

std::optional<std::string> read_number(std::string_view text, const NumberFormat& format, bool exponent_allowed,
                                       std::string& why) {
    if (text == "NaN" || text == "INF" || text == "-INF") {
        if (exponent_allowed) return std::string(text);
        why = "it is no decimal number";
        return std::nullopt;
    }
    const auto parts = split_number(text, format, why);
    if (!parts) return std::nullopt;
    if (format.pattern) {
        if (!fits(*parts, *format.pattern, why)) return std::nullopt;
    } else if (parts->has_exponent && !exponent_allowed) {
        why = "a decimal number has no exponent";
        return std::nullopt;
    }
    return plain_decimal(*parts, why);
}

}  // namespace saggar::csvw
