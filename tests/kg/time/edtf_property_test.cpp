// Properties of the EDTF reader: what is written can be read again, and the bounds hold every day that is admitted.
//
// The twin that decides whether a day is admitted knows nothing of the reader: it compares the digits of the day with
// the text, position by position, and walks over every day of a century.
#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "kg/time/bounds.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"
#include "kg/time/span.h"

using namespace saggar::time;

namespace {

rc::Gen<std::string> mark_text() {
    return rc::gen::weightedElement<std::string>({{6, ""}, {1, "?"}, {1, "~"}, {1, "%"}});
}

rc::Gen<std::string> number_text(int first, int last, int width) {
    return rc::gen::map(rc::gen::inRange(first, last + 1), [width](int number) {
        std::string text = std::to_string(number);
        while (static_cast<int>(text.size()) < width) text.insert(text.begin(), '0');
        return text;
    });
}

// Replaces some digits by X.
std::string masked(std::string text, int mask) {
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (mask >> i & 1) text[i] = 'X';
    }
    return text;
}

std::string make_date() {
    const int form = *rc::gen::weightedElement<int>({{8, 0}, {1, 1}, {1, 2}, {1, 3}});
    const std::string sign = *rc::gen::weightedElement<std::string>({{8, ""}, {1, "-"}});
    std::string left = *mark_text();
    const std::string right = *mark_text();
    if (form == 1) return left + "Y" + sign + *number_text(10000, 99999999, 5) + right;
    if (form == 2)
        return left + "Y" + sign + *number_text(1, 999, 1) + "E" + *number_text(1, 12, 1) + "S" + *number_text(1, 9, 1);
    if (form == 3) return left + sign + *number_text(1, 9999, 4) + "S" + *number_text(1, 5, 1) + right;
    const int parts = *rc::gen::inRange(1, 4);
    std::string text =
        left + sign +
        masked(*number_text(1, 9999, 4), *rc::gen::weightedElement<int>({{4, 0}, {1, 8}, {1, 12}, {1, 5}})) + right;
    if (parts > 1) {
        const std::string before = *mark_text();
        text +=
            "-" + before +
            masked(*number_text(1, parts == 2 ? 41 : 12, 2), *rc::gen::weightedElement<int>({{6, 0}, {1, 3}, {1, 2}}));
        text += *mark_text();
    }
    if (parts > 2) {
        const std::string before = *mark_text();
        text += "-" + before +
                masked(*number_text(1, 31, 2), *rc::gen::weightedElement<int>({{6, 0}, {1, 3}, {1, 2}, {1, 1}}));
        text += *mark_text();
    }
    return text;
}

// Mostly valid EDTF of every kind.
std::string make_edtf() {
    const int kind = *rc::gen::weightedElement<int>({{4, 0}, {3, 1}, {3, 2}});
    if (kind == 0) return make_date();
    if (kind == 1) {
        const int ends = *rc::gen::inRange(0, 5);
        const std::string start = ends == 0 ? "" : ends == 1 ? ".." : make_date();
        const std::string end = ends == 2 ? "" : ends == 3 ? ".." : make_date();
        return start + "/" + end;
    }
    const bool all = *rc::gen::arbitrary<bool>();
    const int count = *rc::gen::inRange(1, 4);
    std::string text = all ? "{" : "[";
    for (int i = 0; i < count; ++i) {
        if (i > 0) text += ",";
        const int range = *rc::gen::inRange(0, 6);
        if (i == 0 && range == 1) text += "..";
        text += make_date();
        if (i + 1 == count && range == 2) text += "..";
        if (range == 3) text += ".." + make_date();
    }
    return text + (all ? "}" : "]");
}

bool in_order(const Bounds& bounds) {
    return bounds.earliest_start.day <= bounds.latest_start.day && bounds.earliest_end.day <= bounds.latest_end.day &&
           bounds.earliest_start.day <= bounds.earliest_end.day && bounds.latest_start.day <= bounds.latest_end.day;
}

}  // namespace

TEST_CASE("what is written is read back as the same value") {
    int accepted = 0;
    const bool held = rc::check("read(write(x)) == x", [&] {
        for (int i = 0; i < 20; ++i) {
            const auto edtf = read_edtf(make_edtf());
            if (!edtf) continue;
            ++accepted;
            const std::string normal = write_edtf(*edtf);
            const auto again = read_edtf(normal);
            RC_ASSERT(again);
            RC_ASSERT(*again == *edtf);
            RC_ASSERT(write_edtf(*again) == normal);
            RC_ASSERT(again->level <= edtf->level);
        }
    });
    CHECK(held);
    CHECK(accepted > 500);
}

TEST_CASE("bounds are in order, and widening and a longer about never narrow them") {
    CHECK(rc::check("order and widening", [] {
        for (int i = 0; i < 20; ++i) {
            const std::string text = make_edtf();
            const auto edtf = read_edtf(text);
            if (!edtf) continue;
            RC_LOG() << text << "\n";
            const int reach = *rc::gen::inRange(0, 20);
            const Bounds narrow = bounds_of(*edtf);
            const Bounds about = bounds_of(*edtf, {Hemisphere::north, SeasonYear::begins, reach});
            const Bounds wide = widen(narrow, reach);
            for (const Bounds& bounds : {narrow, about, wide}) RC_ASSERT(in_order(bounds));
            for (const Bounds& bounds : {about, wide}) {
                RC_ASSERT(bounds.earliest_start.day <= narrow.earliest_start.day);
                RC_ASSERT(bounds.latest_start.day >= narrow.latest_start.day);
                RC_ASSERT(bounds.earliest_end.day <= narrow.earliest_end.day);
                RC_ASSERT(bounds.latest_end.day >= narrow.latest_end.day);
            }
        }
    }));
}

TEST_CASE("no text makes the reader stumble, and errors stand inside the text") {
    CHECK(rc::check("any bytes", [] {
        const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
            "1", "19", "1935", "X", "-", "/", "..", ".", "[", "]", "{", "}", ",", "?", "~", "%", "Y", "E", "S", "T",
            ":", "Z", "+", "04", "31", " ", "\xC3\xA9", "\xFF", "u"));
        std::string text;
        for (const auto& piece : pieces) text += piece;
        const auto edtf = read_edtf(text);
        if (edtf) {
            RC_ASSERT(read_edtf(write_edtf(*edtf)));
        } else {
            RC_ASSERT(edtf.error.offset + edtf.error.length <= text.size());
            RC_ASSERT(!edtf.error.reason.empty());
        }
    }));
}

namespace {

// Whether the digits of a pattern such as 193X-XX-3X admit a day written as YYYY-MM-DD; marks are left out beforehand.
bool admits(const std::string& pattern, const std::string& day) {
    for (std::size_t i = 0; i < pattern.size(); ++i) {
        if (pattern[i] != 'X' && pattern[i] != day[i]) return false;
    }
    return true;
}

struct Century {
    std::vector<std::string> texts;
    Day first = day_of({1900, 1, 1});
    Century() {
        for (Day day = first; civil_of(day).year < 2000; day = plus_days(day, 1)) texts.push_back(to_text(day));
    }
    // First and last admitted day; empty where there is none.
    std::optional<DayRange> enumerate(const std::string& pattern) const {
        std::optional<DayRange> range;
        for (std::size_t i = 0; i < texts.size(); ++i) {
            if (!admits(pattern, texts[i])) continue;
            const Day day = plus_days(first, static_cast<std::int64_t>(i));
            range = DayRange{range ? range->first : day, day};
        }
        return range;
    }
};

}  // namespace

TEST_CASE("the bounds of every pattern are the first and last day of the century that it admits") {
    const Century century;
    const char* years[] = {"1936", "1937", "193X", "19X6", "19XX"};
    std::vector<std::string> months{""};
    std::vector<std::string> days{""};
    for (const char tens : {'0', '1', 'X'}) {
        for (const char units : {'0', '1', '2', '4', '9', 'X'}) months.push_back({'-', tens, units});
    }
    for (const char tens : {'0', '1', '2', '3', 'X'}) {
        for (const char units : {'0', '1', '8', '9', 'X'}) days.push_back({'-', tens, units});
    }
    int read = 0;
    int refused = 0;
    for (const char* year : years) {
        for (const auto& month : months) {
            for (const auto& day : days) {
                if (month.empty() && !day.empty()) continue;
                const std::string text = year + month + day;
                INFO(text);
                const auto range = century.enumerate(text);
                const auto edtf = read_edtf(text);
                if (edtf.value.has_value() != range.has_value()) FAIL(text);
                ++(range ? read : refused);
                if (!range) continue;
                const Bounds bounds = bounds_of(*edtf);
                if (bounds.earliest_start.day != range->first || bounds.latest_end.day != range->last) FAIL(text);
                if (bounds.latest_start.day != range->last || bounds.earliest_end.day != range->first) FAIL(text);
            }
        }
    }
    CHECK(read > 1000);
    CHECK(refused > 500);
}

TEST_CASE("the bounds of sets and intervals hold every day that a member admits") {
    const Century century;
    CHECK(rc::check("members by enumeration", [&] {
        const auto make_pattern = [] {
            return masked(*number_text(1900, 1999, 4), *rc::gen::element(0, 8)) + "-" + *number_text(1, 12, 2);
        };
        const std::string a = make_pattern();
        const std::string b = make_pattern();
        const DayRange in_a = *century.enumerate(a);
        const DayRange in_b = *century.enumerate(b);
        for (const std::string& text : {"[" + a + "," + b + "]", "{" + a + "," + b + "}"}) {
            const Span span = span_of(*read_edtf(text));
            RC_ASSERT(span.earliest == std::min(in_a.first, in_b.first));
            RC_ASSERT(span.latest == std::max(in_a.last, in_b.last));
        }
        const auto interval = read_edtf(a + "/" + b);
        RC_ASSERT(interval.value.has_value() == (in_a.first <= in_b.last));
        if (!interval) return;
        const Bounds bounds = bounds_of(*interval);
        for (std::size_t i = 0; i < century.texts.size(); i += 7) {
            const Day day = plus_days(century.first, static_cast<std::int64_t>(i));
            if (admits(a, century.texts[i]) && day <= in_b.last) {
                RC_ASSERT(bounds.earliest_start.day <= day && day <= bounds.latest_start.day);
            }
            if (admits(b, century.texts[i]) && day >= in_a.first) {
                RC_ASSERT(bounds.earliest_end.day <= day && day <= bounds.latest_end.day);
            }
        }
    }));
}

TEST_CASE("reading is linear: a set of a hundred thousand members is read at once") {
    std::string text = "{1900";
    for (int i = 1; i < 100000; ++i) text += ",19" + std::to_string(10 + i % 90);
    text += "}";
    const auto edtf = read_edtf(text);
    REQUIRE(edtf);
    CHECK(std::get<DateSet>(edtf->value).members.size() == 100000);
    CHECK(span_of(*edtf).latest == day_of({1999, 12, 31}));
}
