#include "importers/csvw/datatype.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "importers/csvw/language.h"
#include "kg/model/key.h"

namespace saggar::csvw {
namespace {

// Section 5.11.1, figure 1, with the aliases of section 5.11.1's list.
constexpr BuiltIn built_ins[] = {
    {"string", TypeGroup::text},
    {"anyAtomicType", TypeGroup::text},
    {"any", TypeGroup::text},
    {"anyURI", TypeGroup::text},
    {"normalizedString", TypeGroup::text},
    {"token", TypeGroup::text},
    {"language", TypeGroup::text},
    {"Name", TypeGroup::text},
    {"NMTOKEN", TypeGroup::text},
    {"QName", TypeGroup::text},
    {"xml", TypeGroup::text},
    {"html", TypeGroup::text},
    {"json", TypeGroup::text},
    {"base64Binary", TypeGroup::binary},
    {"binary", TypeGroup::binary},
    {"hexBinary", TypeGroup::binary},
    {"boolean", TypeGroup::boolean},
    {"decimal", TypeGroup::decimal},
    {"double", TypeGroup::floating},
    {"number", TypeGroup::floating},
    {"float", TypeGroup::floating},
    {"integer", TypeGroup::integer},
    {"long", TypeGroup::integer, DateType::date, "-9223372036854775808", "9223372036854775807"},
    {"int", TypeGroup::integer, DateType::date, "-2147483648", "2147483647"},
    {"short", TypeGroup::integer, DateType::date, "-32768", "32767"},
    {"byte", TypeGroup::integer, DateType::date, "-128", "127"},
    {"nonNegativeInteger", TypeGroup::integer, DateType::date, "0", ""},
    {"positiveInteger", TypeGroup::integer, DateType::date, "1", ""},
    {"unsignedLong", TypeGroup::integer, DateType::date, "0", "18446744073709551615"},
    {"unsignedInt", TypeGroup::integer, DateType::date, "0", "4294967295"},
    {"unsignedShort", TypeGroup::integer, DateType::date, "0", "65535"},
    {"unsignedByte", TypeGroup::integer, DateType::date, "0", "255"},
    {"nonPositiveInteger", TypeGroup::integer, DateType::date, "", "0"},
    {"negativeInteger", TypeGroup::integer, DateType::date, "", "-1"},
    {"date", TypeGroup::date, DateType::date},
    {"dateTime", TypeGroup::date, DateType::date_time},
    {"datetime", TypeGroup::date, DateType::date_time},
    {"dateTimeStamp", TypeGroup::date, DateType::date_time_stamp},
    {"time", TypeGroup::date, DateType::time},
    {"gYear", TypeGroup::date, DateType::year},
    {"gYearMonth", TypeGroup::date, DateType::year_month},
    {"gMonth", TypeGroup::date, DateType::month},
    {"gMonthDay", TypeGroup::date, DateType::month_day},
    {"gDay", TypeGroup::date, DateType::day},
    {"duration", TypeGroup::duration},
    {"dayTimeDuration", TypeGroup::duration},
    {"yearMonthDuration", TypeGroup::duration},
};

long double as_long_double(std::string_view plain) {
    if (plain == "INF") return std::numeric_limits<long double>::infinity();
    if (plain == "-INF") return -std::numeric_limits<long double>::infinity();
    long double number = 0;
    std::from_chars(plain.data(), plain.data() + plain.size(), number);
    return number;
}

std::optional<std::string> read_boolean(std::string_view text, const Datatype& type, std::string& why) {
    const bool own = !type.true_word.empty();
    if (own ? text == type.true_word : text == "true" || text == "1") return "true";
    if (own ? text == type.false_word : text == "false" || text == "0") return "false";
    why =
        own ? fmt::format("it is neither {} nor {}", type.true_word, type.false_word) : "it is neither true nor false";
    return std::nullopt;
}

// -?P(nY)?(nM)?(nD)?(T(nH)?(nM)?(n.nS)?)?, at least one part, and one after T.
std::optional<long double> duration_seconds(std::string_view text, std::string_view base) {
    const bool negative = !text.empty() && text.front() == '-';
    if (negative) text.remove_prefix(1);
    if (text.empty() || text.front() != 'P') return std::nullopt;
    text.remove_prefix(1);
    struct Unit {
        char letter;
        bool clock;
        long double seconds;
    };
    constexpr long double day = 86400;
    constexpr Unit units[] = {{'Y', false, day * 365.2425L},
                              {'M', false, day * 30.436875L},
                              {'D', false, day},
                              {'H', true, 3600},
                              {'M', true, 60},
                              {'S', true, 1}};
    long double total = 0;
    bool clock = false;
    bool any = false;
    std::size_t next = 0;
    while (!text.empty()) {
        if (text.front() == 'T') {
            if (clock || text.size() == 1) return std::nullopt;
            clock = true;
            text.remove_prefix(1);
            continue;
        }
        const std::size_t end = text.find_first_not_of("0123456789.");
        if (end == 0 || end == std::string_view::npos) return std::nullopt;
        const std::string_view number = text.substr(0, end);
        while (next < std::size(units) && (units[next].letter != text[end] || units[next].clock != clock)) ++next;
        if (next == std::size(units)) return std::nullopt;
        const bool point = number.find('.') != std::string_view::npos;
        if (point && (units[next].letter != 'S' || number.front() == '.' || number.back() == '.' ||
                      number.find('.') != number.rfind('.'))) {
            return std::nullopt;
        }
        const bool months = next < 2;
        if ((base == "dayTimeDuration" && months) || (base == "yearMonthDuration" && !months)) return std::nullopt;
        total += as_long_double(number) * units[next].seconds;
        any = true;
        ++next;
        text.remove_prefix(end + 1);
    }
    if (!any) return std::nullopt;
    return negative ? -total : total;
}

bool is_base64(std::string_view text, std::size_t& bytes) {
    std::size_t signs = 0;
    std::size_t padding = 0;
    for (const char c : text) {
        const bool letter =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '+' || c == '/';
        if (c == ' ') continue;
        if (c == '=') {
            ++padding;
        } else if (!letter || padding) {
            return false;
        }
        ++signs;
    }
    if (signs % 4 != 0 || padding > 2) return false;
    bytes = signs / 4 * 3 - padding;
    return true;
}

bool is_hex(std::string_view text, std::size_t& bytes) {
    bytes = text.size() / 2;
    return text.size() % 2 == 0 && text.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
}

bool length_fits(std::size_t length, const Datatype& type, std::string& why) {
    if (type.length && length != *type.length) {
        why = fmt::format("its length is {}, not {}", length, *type.length);
    } else if (type.least_length && length < *type.least_length) {
        why = fmt::format("its length is {}, under {}", length, *type.least_length);
    } else if (type.most_length && length > *type.most_length) {
        why = fmt::format("its length is {}, over {}", length, *type.most_length);
    } else {
        return true;
    }
    return false;
}

bool order_fits(long double order, const Datatype& type, std::string& why) {
    if (type.least && !(order >= *type.least)) {
        why = "it is below the minimum";
    } else if (type.most && !(order <= *type.most)) {
        why = "it is above the maximum";
    } else if (type.above && !(order > *type.above)) {
        why = "it is not above the exclusive minimum";
    } else if (type.below && !(order < *type.below)) {
        why = "it is not below the exclusive maximum";
    } else {
        return true;
    }
    return false;
}

std::optional<std::string> read_text(std::string_view text, const Datatype& type, std::string& why) {
    const std::string_view base = type.base->name;
    if (base == "language" && !is_language(text)) {
        why = "it is no language tag";
    } else if ((base == "Name" || base == "NMTOKEN" || base == "QName" || base == "anyURI") &&
               (text.find(' ') != std::string_view::npos || (text.empty() && base != "anyURI"))) {
        why = fmt::format("a value of type {} has no blanks", base);
    } else if (type.pattern && !type.pattern->matches(text, why)) {
        return std::nullopt;
    } else if (length_fits(code_points(text), type, why)) {
        return std::string(text);
    }
    return std::nullopt;
}

std::optional<std::string> read_binary(std::string_view text, const Datatype& type, std::string& why) {
    std::size_t bytes = 0;
    if (!(type.base->name == "hexBinary" ? is_hex(text, bytes) : is_base64(text, bytes))) {
        why = fmt::format("it is not of type {}", type.base->name);
        return std::nullopt;
    }
    if (type.pattern && !type.pattern->matches(text, why)) return std::nullopt;
    if (!length_fits(bytes, type, why)) return std::nullopt;
    return std::string(text);
}

std::optional<std::string> read_numeric(std::string_view text, const Datatype& type, std::string& why) {
    auto plain = read_number(text, type.number, type.base->group == TypeGroup::floating, why);
    if (!plain) return std::nullopt;
    if (type.base->group == TypeGroup::integer) {
        const std::size_t point = plain->find('.');
        if (point != std::string::npos) {
            why = "it is no whole number";
            return std::nullopt;
        }
        const long double number = as_long_double(*plain);
        if ((!type.base->least.empty() && number < as_long_double(type.base->least)) ||
            (!type.base->most.empty() && number > as_long_double(type.base->most))) {
            why = fmt::format("it is outside the range of type {}", type.base->name);
            return std::nullopt;
        }
    }
    if (*plain != "NaN" && !order_fits(as_long_double(*plain), type, why)) return std::nullopt;
    return plain;
}

}  // namespace

const BuiltIn* built_in_type(std::string_view name) {
    const auto found =
        std::find_if(std::begin(built_ins), std::end(built_ins), [&](const BuiltIn& one) { return one.name == name; });
    return found == std::end(built_ins) ? nullptr : &*found;
}

bool keeps_line_ends(const Datatype& type) {
    for (const std::string_view name : {"string", "json", "xml", "html", "anyAtomicType", "any"}) {
        if (type.base->name == name) return true;
    }
    return false;
}

bool keeps_blanks(const Datatype& type) {
    return keeps_line_ends(type) || type.base->name == "normalizedString";
}

std::optional<std::string> read_value(std::string_view text, const Datatype& type, std::string& why) {
    switch (type.base->group) {
        case TypeGroup::text:
            return read_text(text, type, why);
        case TypeGroup::binary:
            return read_binary(text, type, why);
        case TypeGroup::boolean:
            return read_boolean(text, type, why);
        case TypeGroup::integer:
        case TypeGroup::decimal:
        case TypeGroup::floating:
            return read_numeric(text, type, why);
        case TypeGroup::date: {
            auto date = read_date(text, type.base->date, type.date_pattern, why);
            if (!date || !order_fits(date->order, type, why)) return std::nullopt;
            return std::move(date->text);
        }
        case TypeGroup::duration: {
            const auto seconds = duration_seconds(text, type.base->name);
            if (!seconds) {
                why = fmt::format("it is not of type {}", type.base->name);
                return std::nullopt;
            }
            if (type.pattern && !type.pattern->matches(text, why)) return std::nullopt;
            if (!order_fits(*seconds, type, why)) return std::nullopt;
            return std::string(text);
        }
    }
    return std::nullopt;
}

std::optional<long double> order_of_value(std::string_view text, const Datatype& type) {
    std::string why;
    switch (type.base->group) {
        case TypeGroup::integer:
        case TypeGroup::decimal:
        case TypeGroup::floating: {
            const auto plain = read_number(text, NumberFormat(), true, why);
            if (!plain) return std::nullopt;
            return as_long_double(*plain);
        }
        case TypeGroup::date: {
            const auto date = read_date(text, type.base->date, "", why);
            if (!date) return std::nullopt;
            return date->order;
        }
        case TypeGroup::duration:
            return duration_seconds(text, type.base->name);
        default:
            return std::nullopt;
    }
}

}  // namespace saggar::csvw
