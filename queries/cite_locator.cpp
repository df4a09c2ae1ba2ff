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

// "12-14", "12–14" and "12--14" have two ends, "12" one; nothing where an end is missing or is no page ("xii", "4v", "A3" are).
std::optional<std::vector<std::string>> page_ends(std::string_view range) {
    std::vector<std::string> ends(1);
    bool after_dash = false;
    for (std::size_t i = 0; i < range.size();) {
        const auto rest = range.substr(i);
        const bool en_dash = rest.starts_with("\u2013"), em_dash = rest.starts_with("\u2014");
        if (rest.front() == '-' || en_dash || em_dash) {
            if (!after_dash) ends.emplace_back();
            after_dash = true;
            i += rest.front() == '-' ? 1 : 3;
            continue;
        }
        const char c = rest.front();
        const bool fits = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.';
        if (!fits) return std::nullopt;
        ends.back() += c;
        after_dash = false;
        ++i;
    }
    if (ends.size() > 2) return std::nullopt;
    for (const auto& end : ends) {
        if (end.empty()) return std::nullopt;
    }
    if (ends.size() == 2 && ends[0] == ends[1]) ends.pop_back();
    return ends;
}

std::string_view trimmed_locator(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

// "back cover", "12 ff.": no number, but a place. Nothing where an end of a range or of a list is missing.
std::optional<std::string> page_by_name(std::string_view page) {
    for (const auto piece : cut(page, ',')) {
        const auto name = trimmed_locator(piece);
        if (name.empty()) return std::nullopt;
        for (const std::string_view dash : {"-", "\u2013", "\u2014"}) {
            if (name.starts_with(dash) || name.ends_with(dash)) return std::nullopt;
        }
    }
    return std::string(page);
}

std::optional<std::string> page_words(std::string_view pages, PageWords words) {
    std::string text;
    bool several = false;
    for (const auto piece : cut(pages, ',')) {
        const auto ends = page_ends(trimmed_locator(piece));
        if (!ends) return page_by_name(pages);
        several = several || !text.empty() || ends->size() > 1;
        text += (text.empty() ? "" : ", ") + ends->front() + (ends->size() > 1 ? "\u2013" + ends->back() : "");
    }
    if (words == PageWords::bare) return text;
    return (several ? "pp. " : "p. ") + text;
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
