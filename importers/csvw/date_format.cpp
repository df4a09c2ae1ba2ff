#include "importers/csvw/date_format.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/time/day.h"

namespace saggar::csvw {
namespace {

// How patterns ask for a time zone (UTS 35), longer ones first.
constexpr std::string_view zone_words[] = {"XXX", "XX", "X", "xxx", "xx", "x"};

// What stands in a date, as far as its type has it.
struct DateFields {
    bool negative = false;
    std::string year;  // digits; empty: none
    int month = 0;
    int day = 0;
    int hour = -1;
    int minute = 0;
    int second = 0;
    std::string fraction;
    bool has_zone = false;
    bool zulu = false;
    int zone_minutes = 0;
};

constexpr std::string_view date_patterns[] = {"yyyy-MM-dd", "yyyyMMdd",   "dd-MM-yyyy", "d-M-yyyy",   "MM-dd-yyyy",
                                              "M-d-yyyy",   "dd/MM/yyyy", "d/M/yyyy",   "MM/dd/yyyy", "M/d/yyyy",
                                              "dd.MM.yyyy", "d.M.yyyy",   "MM.dd.yyyy", "M.d.yyyy"};
constexpr std::string_view time_patterns[] = {"HH:mm:ss", "HHmmss", "HH:mm", "HHmm"};

// The pattern of a type where none is given, in the same letters; "S" stands for an optional fraction, "z" for an
// optional zone.
std::string_view schema_pattern(DateType type) {
    switch (type) {
        case DateType::date:
            return "Y-MM-ddz";
        case DateType::date_time:
            return "Y-MM-ddTHH:mm:ssSz";
        case DateType::date_time_stamp:
            return "Y-MM-ddTHH:mm:ssSZ";
        case DateType::time:
            return "HH:mm:ssSz";
        case DateType::year:
            return "Yz";
        case DateType::year_month:
            return "Y-MMz";
        case DateType::month:
            return "--MMz";
        case DateType::month_day:
            return "--MM-ddz";
        case DateType::day:
            return "---ddz";
    }
    return {};
}

bool has_date_part(DateType type) {
    return type == DateType::date || type == DateType::date_time || type == DateType::date_time_stamp;
}
bool has_time_part(DateType type) {
    return type == DateType::time || type == DateType::date_time || type == DateType::date_time_stamp;
}

class DateTextReader {
public:
    DateTextReader(std::string_view text, std::string_view pattern) : text_(text), pattern_(pattern) {}

    bool read(DateFields& fields) {
        while (!pattern_.empty()) {
            if (!field(fields)) return false;
        }
        return text_.empty();
    }

private:
    bool take_pattern(std::string_view word) {
        if (pattern_.substr(0, word.size()) != word) return false;
        pattern_.remove_prefix(word.size());
        return true;
    }

    bool field(DateFields& fields) {
        if (take_pattern("yyyy")) return year(fields, 4);
        if (take_pattern("Y")) return schema_year(fields);
        if (take_pattern("MM")) return number(fields.month, 2, 2);
        if (take_pattern("M")) return number(fields.month, 1, 2);
        if (take_pattern("dd")) return number(fields.day, 2, 2);
        if (take_pattern("d")) return number(fields.day, 1, 2);
        if (take_pattern("HH")) return number(fields.hour, 2, 2);
        if (take_pattern("mm")) return number(fields.minute, 2, 2);
        if (take_pattern("ss")) return number(fields.second, 2, 2);
        if (take_pattern(".S")) return pattern_fraction(fields);
        if (take_pattern("S"))
            return text_.empty() || text_.front() != '.' || (text_.remove_prefix(1), fraction(fields, 100));
        if (take_pattern("z")) return text_.empty() || zone(fields, 3, true);
        if (take_pattern("Z")) return zone(fields, 3, true);
        for (const std::string_view zone_word : zone_words) {
            if (take_pattern(zone_word))
                return zone(fields, static_cast<int>(zone_word.size()), zone_word.front() == 'X');
        }
        if (text_.empty() || text_.front() != pattern_.front()) return false;
        text_.remove_prefix(1);
        pattern_.remove_prefix(1);
        return true;
    }

    std::string_view digits(std::size_t most) {
        std::size_t count = 0;
        while (count < text_.size() && count < most && text_[count] >= '0' && text_[count] <= '9') ++count;
        const std::string_view found = text_.substr(0, count);
        text_.remove_prefix(count);
        return found;
    }

    bool number(int& out, std::size_t least, std::size_t most) {
        const std::string_view found = digits(most);
        out = 0;
        for (const char c : found) out = out * 10 + (c - '0');
        return found.size() >= least;
    }

    bool year(DateFields& fields, std::size_t count) {
        fields.year = std::string(digits(count));
        return fields.year.size() == count;
    }

    // -?([1-9][0-9]{3,}|0[0-9]{3})
    bool schema_year(DateFields& fields) {
        if (!text_.empty() && text_.front() == '-') {
            fields.negative = true;
            text_.remove_prefix(1);
        }
        fields.year = std::string(digits(12));
        return fields.year.size() == 4 || (fields.year.size() > 4 && fields.year.front() != '0');
    }

    bool fraction(DateFields& fields, std::size_t most) {
        fields.fraction = std::string(digits(most));
        return !fields.fraction.empty();
    }

    // ".SSS": up to as many digits as there are letters; the point goes with them.
    bool pattern_fraction(DateFields& fields) {
        std::size_t most = 1;
        while (take_pattern("S")) ++most;
        if (text_.empty() || text_.front() != '.') return true;
        text_.remove_prefix(1);
        return fraction(fields, most);
    }

    bool zone(DateFields& fields, int letters, bool zulu_allowed) {
        if (text_.empty()) return false;
        fields.has_zone = true;
        const char sign = text_.front();
        text_.remove_prefix(1);
        if (sign == 'Z') {
            fields.zulu = true;
            return zulu_allowed;
        }
        if (sign != '+' && sign != '-') return false;
        int hours = 0;
        int minutes = 0;
        if (!number(hours, 2, 2)) return false;
        const bool colon = letters == 3;
        if (colon) {
            if (text_.empty() || text_.front() != ':') return false;
            text_.remove_prefix(1);
        }
        const bool minutes_there = !text_.empty() && text_.front() >= '0' && text_.front() <= '9';
        if ((minutes_there || letters > 1) && !number(minutes, 2, 2)) return false;
        if (hours > 14 || minutes > 59 || (hours == 14 && minutes != 0)) return false;
        fields.zone_minutes = (sign == '-' ? -1 : 1) * (hours * 60 + minutes);
        return true;
    }

    std::string_view text_;
    std::string_view pattern_;
};

std::int64_t year_number(const DateFields& fields) {
    std::int64_t year = 0;
    for (const char c : fields.year) year = year * 10 + (c - '0');
    return fields.negative ? -year : year;
}

bool exists(const DateFields& fields, DateType type, std::string& why) {
    const bool month =
        has_date_part(type) || type == DateType::year_month || type == DateType::month || type == DateType::month_day;
    const bool day = has_date_part(type) || type == DateType::month_day || type == DateType::day;
    if (month && (fields.month < 1 || fields.month > 12)) {
        why = "there is no such month";
        return false;
    }
    const std::int64_t year = fields.year.empty() ? 2000 : year_number(fields);  // 2000 has 29 February
    if (day && (fields.day < 1 || fields.day > (month ? time::days_in_month(year, fields.month) : 31))) {
        why = "there is no such day in the calendar";
        return false;
    }
    const bool midnight = fields.hour == 24 && fields.minute == 0 && fields.second == 0 &&
                          fields.fraction.find_first_not_of('0') == std::string::npos;
    if (has_time_part(type) && ((fields.hour > 23 && !midnight) || fields.minute > 59 || fields.second > 59)) {
        why = "there is no such time of day";
        return false;
    }
    return true;
}

std::string zone_text(const DateFields& fields) {
    if (!fields.has_zone) return {};
    if (fields.zulu || fields.zone_minutes == 0) return "Z";
    const int minutes = std::abs(fields.zone_minutes);
    return fmt::format("{}{:02}:{:02}", fields.zone_minutes < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

std::string schema_text(const DateFields& fields, DateType type) {
    const std::string year = (fields.negative ? "-" : "") + fields.year;
    std::string clock;
    if (has_time_part(type)) {
        clock = fmt::format("{:02}:{:02}:{:02}", fields.hour, fields.minute, fields.second);
        if (!fields.fraction.empty()) clock += "." + fields.fraction;
    }
    std::string text;
    switch (type) {
        case DateType::date:
            text = fmt::format("{}-{:02}-{:02}", year, fields.month, fields.day);
            break;
        case DateType::date_time:
        case DateType::date_time_stamp:
            text = fmt::format("{}-{:02}-{:02}T{}", year, fields.month, fields.day, clock);
            break;
        case DateType::time:
            text = clock;
            break;
        case DateType::year:
            text = year;
            break;
        case DateType::year_month:
            text = fmt::format("{}-{:02}", year, fields.month);
            break;
        case DateType::month:
            text = fmt::format("--{:02}", fields.month);
            break;
        case DateType::month_day:
            text = fmt::format("--{:02}-{:02}", fields.month, fields.day);
            break;
        case DateType::day:
            text = fmt::format("---{:02}", fields.day);
            break;
    }
    return text + zone_text(fields);
}

long double order_of(const DateFields& fields) {
    const std::int64_t year = fields.year.empty() ? 2000 : year_number(fields);
    const time::Day day = time::day_of({year, std::max(fields.month, 1), std::max(fields.day, 1)});
    long double seconds = static_cast<long double>(day.count) * 86400;
    seconds += (std::max(fields.hour, 0) * 60 + fields.minute - fields.zone_minutes) * 60 + fields.second;
    long double unit = 0.1L;
    for (const char c : fields.fraction) {
        seconds += unit * (c - '0');
        unit /= 10;
    }
    return seconds;
}

// The pattern without a zone at its end.
std::string_view without_zone(std::string_view pattern) {
    for (const std::string_view zone : zone_words) {
        if (pattern.size() >= zone.size() && pattern.substr(pattern.size() - zone.size()) == zone) {
            pattern.remove_suffix(zone.size());
            if (!pattern.empty() && pattern.back() == ' ') pattern.remove_suffix(1);
            break;
        }
    }
    return pattern;
}

bool is_one_of(std::string_view word, const std::string_view* begin, const std::string_view* end) {
    return std::find(begin, end, word) != end;
}

bool is_time_pattern(std::string_view pattern) {
    const std::size_t point = pattern.find(".S");
    if (point != std::string_view::npos) {
        if (pattern.substr(point + 1).find_first_not_of('S') != std::string_view::npos) return false;
        pattern = pattern.substr(0, point);
        if (pattern != "HH:mm:ss" && pattern != "HHmmss") return false;
    }
    return is_one_of(pattern, std::begin(time_patterns), std::end(time_patterns));
}

}  // namespace

bool is_date_pattern(std::string_view pattern, DateType type) {
    if (pattern.size() > 60) return false;
    pattern = without_zone(pattern);
    if (type == DateType::date) return is_one_of(pattern, std::begin(date_patterns), std::end(date_patterns));
    if (type == DateType::time) return is_time_pattern(pattern);
    if (!has_date_part(type)) return false;
    const std::size_t between = pattern.find_first_of("T ");
    return between != std::string_view::npos &&
           is_one_of(pattern.substr(0, between), std::begin(date_patterns), std::end(date_patterns)) &&
           is_time_pattern(pattern.substr(between + 1));
}

std::optional<ReadDate> read_date(std::string_view text, DateType type, std::string_view pattern, std::string& why) {
    DateFields fields;
    const std::string_view used = pattern.empty() ? schema_pattern(type) : pattern;
    if (!DateTextReader(text, used).read(fields)) {
        why = pattern.empty() ? "it is not written as XML Schema writes it"
                              : fmt::format("it does not follow the pattern {}", pattern);
        return std::nullopt;
    }
    if (!exists(fields, type, why)) return std::nullopt;
    return ReadDate{schema_text(fields, type), order_of(fields)};
}

}  // namespace saggar::csvw
