#include "queries/cite_date.h"

#include <fmt/format.h>

#include <optional>
#include <vector>

#include "kg/time/edtf_read.h"

namespace saggar {

namespace {

constexpr std::string_view kMonths[] = {"January", "February", "March",     "April",   "May",      "June",
                                        "July",    "August",   "September", "October", "November", "December"};
constexpr std::string_view kSeasons[] = {"spring", "summer", "autumn", "winter"};
constexpr std::string_view kDash = "\u2013";

using time::Date;
using time::Edtf;
using time::End;
using time::Interval;
using time::Precision;
using time::Qualifier;

// "1934", "1930s", "19th century"-like years have no short form: nothing.
std::optional<std::string> year_words(const time::Year& year) {
    if (year.form != time::Year::Form::four_digits || year.negative) return std::nullopt;
    const std::string digits(year.digits.begin(), year.digits.end());
    if (digits.find('X') == std::string::npos) {
        const auto first = digits.find_first_not_of('0');
        return first == std::string::npos ? std::optional<std::string>() : digits.substr(first);
    }
    if (digits[3] == 'X' && digits.find('X') == 3) return digits.substr(0, 3) + "0s";
    return std::nullopt;
}

Qualifier strongest(const Date& date) {
    Qualifier all = Qualifier::none;
    for (const auto qualifier : date.qualifiers) all = all | qualifier;
    return all;
}

std::optional<std::string> plain_date(const Date& date, DateOrder order) {
    const auto year = year_words(date.year);
    if (!year || date.month.has_x() || date.day.has_x()) return std::nullopt;
    switch (date.precision) {
        case Precision::year:
            return year;
        case Precision::season: {
            const int season = date.month.number() - 21;
            if (season < 0 || season > 3) return std::nullopt;
            return fmt::format("{} {}", kSeasons[season], *year);
        }
        case Precision::month:
            return fmt::format("{} {}", kMonths[date.month.number() - 1], *year);
        case Precision::day: {
            const auto month = kMonths[date.month.number() - 1];
            if (order == DateOrder::month_day) return fmt::format("{} {}, {}", month, date.day.number(), *year);
            return fmt::format("{} {} {}", date.day.number(), month, *year);
        }
    }
    return std::nullopt;
}

std::optional<std::string> date_words(const Date& date, DateOrder order) {
    const auto plain = plain_date(date, order);
    if (!plain) return std::nullopt;
    const auto qualifier = strongest(date);
    return (has(qualifier, Qualifier::approximate) ? "ca. " : "") + *plain +
           (has(qualifier, Qualifier::uncertain) ? "?" : "");
}

std::optional<std::string> interval_words(const Interval& interval, DateOrder order) {
    const auto words = [order](const End& end) -> std::optional<std::string> {
        return end.kind == End::Kind::date ? date_words(end.date, order) : std::optional<std::string>();
    };
    const auto start = words(interval.start), end = words(interval.end);
    if (interval.start.kind == End::Kind::date && !start) return std::nullopt;
    if (interval.end.kind == End::Kind::date && !end) return std::nullopt;
    if (!start) return "until " + *end;
    if (!end) return interval.end.kind == End::Kind::open ? "from " + *start : *start + std::string(kDash) + "?";
    const bool years_only =
        interval.start.date.precision == Precision::year && interval.end.date.precision == Precision::year;
    return years_only ? *start + std::string(kDash) + *end : *start + " " + std::string(kDash) + " " + *end;
}

std::vector<std::string> years_in(std::string_view text) {
    std::vector<std::string> years;
    for (std::size_t i = 0; i < text.size();) {
        std::size_t end = i;
        while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
        if (end - i == 4) years.emplace_back(text.substr(i, 4));
        i = end + 1;
    }
    return years;
}

// The shortest EDTF date that begins (or ends) on this day.
std::string shortest_edtf(time::Day day, bool is_end) {
    const auto edge = time::civil_of(is_end ? time::Day{day.count + 1} : day);  // both are then firsts of something
    std::string text = time::to_text(day);
    if (edge.day != 1 || text.size() != 10) return text;  // years of more than four digits stay as they are
    return text.substr(0, edge.month == 1 ? 4 : 7);
}

bool says_only_years(std::string_view words) {
    return words.find_first_not_of("0123456789?\u2013 ca.") == std::string_view::npos;
}

}  // namespace

std::string date_in_words(std::string_view edtf, DateOrder order) {
    const auto read = time::read_edtf(edtf);
    if (!read) return std::string(edtf);
    std::optional<std::string> words;
    if (const auto* date = std::get_if<Date>(&read->value)) words = date_words(*date, order);
    if (const auto* interval = std::get_if<Interval>(&read->value)) words = interval_words(*interval, order);
    return words.value_or(std::string(edtf));
}

std::string range_in_words(time::Day earliest, time::Day latest, DateOrder order) {
    const bool from = !time::is_limit(earliest), to = !time::is_limit(latest);
    if (!from && !to) return "not known";
    const auto first = from ? date_in_words(shortest_edtf(earliest, false), order) : std::string();
    const auto last = to ? date_in_words(shortest_edtf(latest, true), order) : std::string();
    if (!to) return "not before " + first;
    if (!from) return "not after " + last;
    if (earliest == latest) return "on " + first;
    const auto begins = shortest_edtf(earliest, false), ends = shortest_edtf(latest, true);
    const auto& finer = begins.size() < ends.size() ? ends : begins;
    const bool one = finer.size() < 10 && time::to_text(earliest).substr(0, finer.size()) == finer &&
                     time::to_text(latest).substr(0, finer.size()) == finer;
    if (one) return "in " + date_in_words(finer, order);
    return fmt::format("not before {}, not after {}", first, last);
}

bool title_tells_date(std::string_view title, std::string_view edtf) {
    if (edtf.empty()) return false;
    for (const auto order : {DateOrder::day_month, DateOrder::month_day}) {
        if (title.find(date_in_words(edtf, order)) != std::string_view::npos) return true;
    }
    const auto words = date_in_words(edtf);
    const auto years = years_in(words);
    if (years.empty() || !says_only_years(words)) return false;
    for (const auto& year : years) {
        if (title.find(year) == std::string_view::npos) return false;
    }
    return true;
}

}  // namespace saggar
