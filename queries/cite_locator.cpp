#include "queries/cite_locator.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

namespace saggar {

namespace {

std::vector<std::string_view> cut(std::string_view text, char separator) {
    std::vector<std::string_view> pieces;
    while (true) {
        const auto at = text.find(separator);
        pieces.push_back(text.substr(0, at));
        if (at == std::string_view::npos) return pieces;
        text.remove_prefix(at + 1);
    }
}

std::string with_en_dashes(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '-') {
            out += "\u2013";
        } else {
            out += c;
            if (c == ',') out += ' ';
        }
    }
    return out;
}

std::string page_words(std::string_view pages, PageWords words) {
    const auto text = with_en_dashes(pages);
    if (words == PageWords::bare) return text;
    return (pages.find_first_of("-,") == std::string_view::npos ? "p. " : "pp. ") + text;
}

std::optional<double> number_of(std::string_view text) {
    double value = 0;
    const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
    if (result.ec != std::errc() || result.ptr != text.data() + text.size() || !(value >= 0) || value > 1e9)
        return std::nullopt;
    return value;
}

// npt-sec, npt-mmss or npt-hhmmss, Media Fragments URI 1.0, 4.2.1.
std::optional<double> seconds_of(std::string_view text) {
    double seconds = 0;
    for (const auto piece : cut(text, ':')) {
        const auto value = number_of(piece);
        if (!value) return std::nullopt;
        seconds = seconds * 60 + *value;
    }
    return seconds;
}

std::string clock_words(double seconds) {
    const auto whole = static_cast<long long>(seconds);
    return fmt::format("{}:{:02}:{:02}", whole / 3600, whole / 60 % 60, whole % 60);
}

std::optional<std::string> time_words(std::string_view value) {
    if (value.starts_with("npt:")) value.remove_prefix(4);
    const auto ends = cut(value, ',');
    if (ends.size() > 2) return std::nullopt;
    const auto start = ends[0].empty() ? std::optional<double>(0) : seconds_of(ends[0]);
    if (!start) return std::nullopt;
    if (ends.size() == 1) return "from " + clock_words(*start);
    const auto end = seconds_of(ends[1]);
    if (!end) return std::nullopt;
    return clock_words(*start) + "\u2013" + clock_words(*end);
}

std::optional<std::string> region_words(std::string_view value) {
    const char* unit = "px";
    if (value.starts_with("pixel:")) value.remove_prefix(6);
    if (value.starts_with("percent:")) {
        value.remove_prefix(8);
        unit = "per cent";
    }
    const auto numbers = cut(value, ',');
    if (numbers.size() != 4) return std::nullopt;
    for (const auto number : numbers) {
        if (!number_of(number)) return std::nullopt;
    }
    return fmt::format("detail at {}, {}, {} \u00D7 {} {}", numbers[0], numbers[1], numbers[2], numbers[3], unit);
}

std::optional<std::string> one_locator(std::string_view part, PageWords pages) {
    if (part.starts_with("page=") && part.size() > 5) return page_words(part.substr(5), pages);
    if (part.starts_with("t=")) return time_words(part.substr(2));
    if (part.starts_with("xywh=")) return region_words(part.substr(5));
    return std::nullopt;
}

}  // namespace

std::string locator_in_words(std::string_view at, PageWords pages) {
    std::string out;
    for (const auto part : cut(at, '&')) {
        const auto words = one_locator(part, pages);
        if (!words) return std::string(at);
        out += (out.empty() ? "" : ", ") + *words;
    }
    return out;
}

}  // namespace saggar
