#include "kg/time/edtf_write.h"

#include <fmt/format.h>

namespace saggar::time {

namespace {

std::string mark_of(Qualifier qualifier) {
    switch (qualifier) {
        case Qualifier::none:
            return "";
        case Qualifier::uncertain:
            return "?";
        case Qualifier::approximate:
            return "~";
        case Qualifier::both:
            return "%";
    }
    return "";
}

std::string text_of(const Year& year) {
    const char* sign = year.negative ? "-" : "";
    std::string text;
    switch (year.form) {
        case Year::Form::four_digits:
            text = sign + std::string(year.digits.data(), 4);
            break;
        case Year::Form::letter:
            text = fmt::format("Y{}{}", sign, year.number);
            break;
        case Year::Form::exponential:
            text = fmt::format("Y{}{}E{}", sign, year.number, year.exponent);
            break;
    }
    if (year.significant > 0) text += fmt::format("S{}", year.significant);
    return text;
}

std::string text_of(const Clock& clock) {
    std::string text = fmt::format("T{:02}:{:02}:{:02}", clock.hour, clock.minute, clock.second);
    const int shift = clock.shift_minutes < 0 ? -clock.shift_minutes : clock.shift_minutes;
    const char sign = clock.shift_minutes < 0 ? '-' : '+';
    switch (clock.shift) {
        case Clock::Shift::local:
            break;
        case Clock::Shift::utc:
            text += 'Z';
            break;
        case Clock::Shift::hours:
            text += fmt::format("{}{:02}", sign, shift / 60);
            break;
        case Clock::Shift::hours_minutes:
            text += fmt::format("{}{:02}:{:02}", sign, shift / 60, shift % 60);
            break;
    }
    return text;
}

std::string text_of(const End& end) {
    switch (end.kind) {
        case End::Kind::date:
            return write_edtf(end.date);
        case End::Kind::open:
            return "..";
        case End::Kind::unknown:
            return "";
    }
    return "";
}

std::string text_of(const Member& member) {
    switch (member.kind) {
        case Member::Kind::single:
            return write_edtf(member.first);
        case Member::Kind::range:
            return write_edtf(member.first) + ".." + write_edtf(member.last);
        case Member::Kind::up_to:
            return ".." + write_edtf(member.first);
        case Member::Kind::from:
            return write_edtf(member.first) + "..";
    }
    return "";
}

}  // namespace

std::string write_edtf(const Date& date) {
    const int count = components(date);
    const std::string texts[3] = {
        text_of(date.year), {date.month.tens, date.month.units}, {date.day.tens, date.day.units}};
    int shared = 1;  // how many leading components share the qualifier of the year
    while (shared < count && date.qualifiers[static_cast<std::size_t>(shared)] == date.qualifiers[0]) ++shared;
    std::string text;
    for (int i = 0; i < count; ++i) {
        if (i > 0) text += '-';
        if (i >= shared) text += mark_of(date.qualifiers[static_cast<std::size_t>(i)]);
        text += texts[i];
        if (i == shared - 1) text += mark_of(date.qualifiers[0]);
    }
    if (date.clock) text += text_of(*date.clock);
    return text;
}

std::string write_edtf(const Edtf& edtf) {
    if (const auto* date = std::get_if<Date>(&edtf.value)) return write_edtf(*date);
    if (const auto* interval = std::get_if<Interval>(&edtf.value)) {
        return text_of(interval->start) + "/" + text_of(interval->end);
    }
    const auto& set = std::get<DateSet>(edtf.value);
    std::string text(1, set.all ? '{' : '[');
    for (std::size_t i = 0; i < set.members.size(); ++i) {
        if (i > 0) text += ',';
        text += text_of(set.members[i]);
    }
    text += set.all ? '}' : ']';
    return text;
}

}  // namespace saggar::time
