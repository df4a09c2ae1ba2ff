#include "kg/time/span.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/time/edtf_read.h"

namespace saggar::time {

namespace {

void note_marks(const Date& date, Span& span) {
    for (const Qualifier qualifier : date.qualifiers) {
        span.uncertain = span.uncertain || has(qualifier, Qualifier::uncertain);
        span.approximate = span.approximate || has(qualifier, Qualifier::approximate);
    }
}

void note_marks(const Edtf& edtf, Span& span) {
    if (const auto* date = std::get_if<Date>(&edtf.value)) {
        note_marks(*date, span);
    } else if (const auto* interval = std::get_if<Interval>(&edtf.value)) {
        if (interval->start.kind == End::Kind::date) note_marks(interval->start.date, span);
        if (interval->end.kind == End::Kind::date) note_marks(interval->end.date, span);
    } else {
        for (const Member& member : std::get<DateSet>(edtf.value).members) {
            note_marks(member.first, span);
            if (member.kind == Member::Kind::range) note_marks(member.last, span);
        }
    }
}

}  // namespace

Span span_of(const Edtf& edtf, const Conventions& conventions) {
    const Bounds bounds = bounds_of(edtf, conventions);
    Span span{bounds.earliest_start.day, bounds.latest_end.day, false, false};
    note_marks(edtf, span);
    return span;
}

Read<Span> read_span(std::string_view edtf, const Conventions& conventions) {
    auto read = read_edtf(edtf);
    if (!read) return {std::nullopt, std::move(read.error)};
    return {span_of(*read, conventions), {}};
}

Span widen(const Span& span, int years) {
    Span wide = span;
    wide.earliest = plus_years(span.earliest, -years);
    wide.latest = plus_years(span.latest, years);
    return wide;
}

bool disjoint(const Span& a, const Span& b, int tolerance_years) {
    const Span wide = widen(a, tolerance_years);
    return wide.latest < b.earliest || b.latest < wide.earliest;
}

Span common(const Span& a, const Span& b) {
    return {std::max(a.earliest, b.earliest), std::min(a.latest, b.latest), a.uncertain || b.uncertain,
            a.approximate || b.approximate};
}

std::string to_text(const Span& span) {
    const bool from = span.earliest != before_all;
    const bool to = span.latest != after_all;
    if (from && to) return fmt::format("{} to {}", to_text(span.earliest), to_text(span.latest));
    if (from) return fmt::format("not before {}", to_text(span.earliest));
    if (to) return fmt::format("not after {}", to_text(span.latest));
    return "any time";
}

}  // namespace saggar::time
