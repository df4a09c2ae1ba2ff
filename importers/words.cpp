#include "importers/words.h"

#include <charconv>

namespace saggar {
namespace {

constexpr std::string_view blanks_of_text[] = {" ",  "\t", "\n",           "\r",           "\xC2\xA0",
                                               "\v", "\f", "\xE2\x80\x8B", "\xE2\x80\xAF", "\xEF\xBB\xBF"};

}  // namespace

std::string_view trim(std::string_view text) {
    // Nearly every cell starts and ends with a plain sign: one look tells.
    const auto may_be_blank = [](char sign) {
        const auto byte = static_cast<unsigned char>(sign);
        return byte <= ' ' || byte >= 0x80;
    };
    for (bool again = !text.empty(); again && !text.empty();) {
        again = false;
        if (!may_be_blank(text.front()) && !may_be_blank(text.back())) break;
        for (const std::string_view blank : blanks_of_text) {
            if (text.size() >= blank.size() && text.substr(0, blank.size()) == blank) {
                text.remove_prefix(blank.size());
                again = true;
            }
            if (text.size() >= blank.size() && text.substr(text.size() - blank.size()) == blank) {
                text.remove_suffix(blank.size());
                again = true;
            }
        }
    }
    return text;
}

std::vector<std::string_view> split_list(std::string_view text, std::string_view separator) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t at = text.find(separator);
        const std::string_view part = trim(text.substr(0, at));
        if (!part.empty()) parts.push_back(part);
        if (at == std::string_view::npos) return parts;
        text.remove_prefix(at + separator.size());
    }
}

std::optional<double> decimal(std::string_view text) {
    std::string_view digits = text;
    if (!digits.empty() && (digits.front() == '-' || digits.front() == '+')) digits.remove_prefix(1);
    bool digit = false;
    bool point = false;
    for (const char sign : digits) {
        if (sign >= '0' && sign <= '9') {
            digit = true;
        } else if (sign == '.' && !point) {
            point = true;
        } else {
            return std::nullopt;
        }
    }
    if (!digit) return std::nullopt;
    if (text.front() == '+') text.remove_prefix(1);
    double number = 0;
    std::from_chars(text.data(), text.data() + text.size(), number);
    return number;
}

}  // namespace saggar
