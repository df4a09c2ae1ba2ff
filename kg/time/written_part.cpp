#include "kg/time/written_part.h"

#include <fmt/format.h>

namespace saggar::time {

namespace {

void set_stretch(WrittenPoint& point, int first_year, int last_year) {
    point.first = date_of_year(first_year);
    point.last = date_of_year(last_year);
    point.stretch = true;
}

bool read_ordinal_part(WrittenCursor& cursor, WrittenPart& part) {
    const WrittenToken& token = cursor.peek();
    std::size_t length = 1;
    int number = ordinal_of_word(token.text);
    if (token.is_word("last")) number = -1;
    if (token.kind == WrittenToken::Kind::number && token.text.size() == 1 && is_ordinal_ending(cursor.peek(1))) {
        number = token.value();
        length = 2;
    }
    const WrittenToken& unit = cursor.peek(length);
    const int of = unit.is_word("half") ? 2 : unit.is_word("third") ? 3 : unit.is_word("quarter") ? 4 : 0;
    if (number == 0 || number > 4 || of == 0) return true;  // not a part: "19th century"
    part = {WrittenPart::Kind::ordinal, number < 0 ? of : number, of, token.offset};
    cursor.advance(length + 1);
    if (part.number > of) {
        return cursor.fail("written-part", part.offset, fmt::format("There are only {} such parts.", of),
                           "Check the number.");
    }
    cursor.take_word("of");
    return true;
}

}  // namespace

bool is_ordinal_ending(const WrittenToken& token) {
    return !token.after_blank &&
           (token.is_word("st") || token.is_word("nd") || token.is_word("rd") || token.is_word("th"));
}

Date date_of_year(int year) {
    Date date;
    for (std::size_t i = 4; i-- > 0; year /= 10) date.year.digits[i] = static_cast<char>('0' + year % 10);
    return date;
}

void set_single(WrittenPoint& point, const Date& date) {
    point.first = date;
    point.last = date;
}

bool read_written_part(WrittenCursor& cursor, WrittenPart& part) {
    const WrittenToken& token = cursor.peek();
    if (token.is_word("early")) part = {WrittenPart::Kind::early, 0, 0, token.offset};
    if (token.is_word("mid") || token.is_word("middle")) part = {WrittenPart::Kind::mid, 0, 0, token.offset};
    if (token.is_word("late")) part = {WrittenPart::Kind::late, 0, 0, token.offset};
    if (part.kind == WrittenPart::Kind::whole) return read_ordinal_part(cursor, part);
    cursor.advance();
    cursor.take_mark('-');
    if (!cursor.take_word("in")) cursor.take_word("of");
    return true;
}

bool set_decade(WrittenCursor& cursor, WrittenPoint& point, int first_year, const WrittenPart& part) {
    switch (part.kind) {
        case WrittenPart::Kind::whole: {
            Date date = date_of_year(first_year);
            date.year.digits[3] = 'X';
            set_single(point, date);
            point.decade = true;
            return true;
        }
        case WrittenPart::Kind::early:
            set_stretch(point, first_year, first_year + 3);
            return true;
        case WrittenPart::Kind::mid:
            set_stretch(point, first_year + 4, first_year + 6);
            return true;
        case WrittenPart::Kind::late:
            set_stretch(point, first_year + 7, first_year + 9);
            return true;
        case WrittenPart::Kind::ordinal:
            break;
    }
    if (part.of == 2) {
        set_stretch(point, first_year + (part.number - 1) * 5, first_year + part.number * 5 - 1);
        return true;
    }
    return cursor.fail("written-part", part.offset, "Ten years cannot be cut into equal parts of that kind.",
                       "Write the years.");
}

// The 19th century is 1801 to 1900. Thirds: 1801-1833, 1834-1866, 1867-1900.
bool set_century(WrittenPoint& point, int century, const WrittenPart& part) {
    const int base = (century - 1) * 100;
    int number = 1;
    int of = 1;
    if (part.kind == WrittenPart::Kind::ordinal) {
        number = part.number;
        of = part.of;
    } else if (part.kind != WrittenPart::Kind::whole) {
        number = part.kind == WrittenPart::Kind::early ? 1 : part.kind == WrittenPart::Kind::mid ? 2 : 3;
        of = 3;
    }
    set_stretch(point, base + 100 * (number - 1) / of + 1, base + 100 * number / of);
    return true;
}

}  // namespace saggar::time
