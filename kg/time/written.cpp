#include "kg/time/written.h"

#include <fmt/format.h>

#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"
#include "kg/time/written_range.h"

namespace saggar::time {

namespace {

bool is_thing_word(std::string_view word) {
    return word == "pattern" || word == "shape" || word == "body" || word == "form" || word == "decoration" ||
           word == "piece";
}

// "designed", "pattern introduced"; nothing is taken where no label stands.
std::string take_label(WrittenCursor& cursor) {
    const std::size_t thing = is_thing_word(cursor.peek().text) ? 1 : 0;
    const std::string label(label_of_word(cursor.peek(thing).text));
    if (!label.empty()) cursor.advance(thing + 1);
    return label;
}

// "(designed)" behind a date.
bool read_label_behind(WrittenCursor& cursor, WrittenDate& date, bool was_list) {
    if (!cursor.peek().is_mark('(')) return true;
    const std::size_t offset = cursor.peek().offset;
    cursor.advance();
    const std::string label = take_label(cursor);
    if (label.empty()) return cursor.fail_here();
    if (!cursor.take_mark(')')) return cursor.fail_here();
    if (was_list) {
        return cursor.fail("written-label", offset, "It is not clear which of the dates the label belongs to.",
                           "Put the label behind each date.");
    }
    if (!date.label.empty()) {
        return cursor.fail("written-label", offset, "The date has two labels.", "Keep one of them.");
    }
    date.label = label;
    return true;
}

bool is_list(const Edtf& edtf) {
    const auto* set = std::get_if<DateSet>(&edtf.value);
    return set != nullptr && set->all;
}

bool read_phase(WrittenCursor& cursor, WrittenDate& date) {
    date.offset = cursor.peek().offset;
    date.label = take_label(cursor);
    if (!date.label.empty() && !cursor.take_mark(',')) cursor.take_mark(':');
    Edtf edtf;
    if (!read_written_range(cursor, edtf) || !read_label_behind(cursor, date, is_list(edtf))) return false;
    date.edtf = write_edtf(edtf);
    date.words = std::string(cursor.text().substr(date.offset, cursor.end_of_last() - date.offset));
    return true;
}

// Commas, semicolons and "and" between phases.
void skip_between_phases(WrittenCursor& cursor) {
    while (cursor.take_mark(',') || cursor.take_mark(';') || cursor.take_word("and")) {
    }
}

bool phase_can_start(const WrittenCursor& cursor) {
    const std::size_t thing = is_thing_word(cursor.peek().text) ? 1 : 0;
    return !label_of_word(cursor.peek(thing).text).empty() || range_can_start(cursor);
}

bool read_phases(WrittenCursor& cursor, std::vector<WrittenDate>& dates) {
    bool unlabelled = false;
    do {
        if (!dates.empty() && !phase_can_start(cursor)) return cursor.fail_here();
        WrittenDate date;
        if (!read_phase(cursor, date)) return false;
        if (date.label.empty() && unlabelled) {
            return cursor.fail("written-label", date.offset,
                               "Two dates stand here, and the text does not say of what each is.",
                               "Label each date, as in \"designed 1945, made 1946-49\".");
        }
        unlabelled = unlabelled || date.label.empty();
        dates.push_back(std::move(date));
        if (cursor.peek().is_mark('.') && cursor.peek(1).kind == WrittenToken::Kind::end) cursor.advance();
        skip_between_phases(cursor);
    } while (!cursor.at_end());
    return true;
}

bool says_no_date(WrittenCursor& cursor) {
    static constexpr std::string_view ways[] = {"n.d.",      "n.d",     "nd",           "no date",      "undated",
                                                "not dated", "unknown", "date unknown", "unknown date", "?"};
    std::string text;
    for (std::size_t i = 0; cursor.peek(i).kind != WrittenToken::Kind::end && text.size() < 16; ++i) {
        if (i > 0 && cursor.peek(i).after_blank) text += ' ';
        text += cursor.peek(i).text;
    }
    for (const std::string_view way : ways) {
        if (text == way) return true;
    }
    return false;
}

// "[1935?]": brackets round the whole date, as cataloguers put round what they supply. The date is read as if they were
// not there.
bool read_whole(WrittenCursor& cursor, std::vector<WrittenDate>& dates) {
    if (cursor.at_end()) {
        return cursor.fail("written-empty", 0, "The date is empty.", "Leave the field empty, or write a date.");
    }
    if (says_no_date(cursor)) {
        const std::size_t offset = cursor.peek().offset;
        while (!cursor.at_end()) cursor.advance();
        return cursor.fail("written-undated", offset, "The text says that there is no date.", "Leave the field empty.");
    }
    if (!cursor.take_mark('[')) return read_phases(cursor, dates);
    WrittenDate date;
    if (!read_phase(cursor, date)) return false;
    if (!cursor.take_mark(']')) return cursor.fail_here();
    cursor.take_mark('.');
    if (!cursor.at_end()) return cursor.fail_here();
    dates.push_back(std::move(date));
    return true;
}

// "1931-34": the two digits behind the hyphen, where they could be the later year of a run and are a sub-year of EDTF
// (21 to 41); else 0.
int second_year(std::string_view text) {
    if (text.size() != 7 || text[4] != '-') return 0;
    for (const std::size_t i : {0u, 1u, 2u, 3u, 5u, 6u})
        if (text[i] < '0' || text[i] > '9') return 0;
    const int first = (text[2] - '0') * 10 + (text[3] - '0');
    const int second = (text[5] - '0') * 10 + (text[6] - '0');
    return second > first && second >= 21 && second <= 41 ? second : 0;
}

}  // namespace

Read<std::vector<WrittenDate>> read_written(std::string_view text) {
    WrittenCursor cursor(text);
    std::vector<WrittenDate> dates;
    if (!read_whole(cursor, dates)) return {std::nullopt, *cursor.error()};
    return {std::move(dates), {}};
}

Read<std::vector<WrittenDate>> read_edtf_or_written(std::string_view text) {
    auto edtf = read_edtf(text);
    const int behind = second_year(text);
    if (behind > 24) return read_written(text);
    if (behind >= 21) {
        return {std::nullopt,
                {"written-ambiguous", 0, text.size(), "This is a season of EDTF and could be a run of years.",
                 "Write the years in full, 1918/1922, or the season by name, summer 1918."}};
    }
    if (edtf) return {std::vector<WrittenDate>{{"", write_edtf(*edtf), std::string(text), 0}}, {}};
    auto written = read_written(text);
    const bool meant_as_edtf = text.find("..") != std::string_view::npos;
    const bool has_blank = text.find(' ') != std::string_view::npos;  // EDTF has none, people do
    if (!written && (meant_as_edtf || (!has_blank && edtf.error.offset > written.error.offset))) {
        written.error = edtf.error;
    }
    return written;
}

}  // namespace saggar::time
