#include "kg/model/text_lines.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("places count lines and code points from 1", "[text_lines]") {
    const std::string text = "one\r\nS\u00e8vres cup\n\nlast";
    const TextLines lines("f.csv", text);
    struct Row {
        std::size_t begin, end;
        std::uint32_t line, column, length;
        std::string shown;
    };
    for (const Row& row : std::vector<Row>{{0, 3, 1, 1, 3, "one"},
                                           {5, 12, 2, 1, 6, "S\u00e8vres cup"},
                                           {13, 16, 2, 8, 3, "S\u00e8vres cup"},
                                           {13, 21, 2, 8, 3, "S\u00e8vres cup"},
                                           {17, 17, 3, 1, 0, ""},
                                           {18, 22, 4, 1, 4, "last"},
                                           {22, 30, 4, 5, 0, "last"},
                                           {99, 99, 4, 5, 0, "last"}}) {
        INFO(row.begin);
        const Place place = lines.place(row.begin, row.end);
        CHECK(place.line == row.line);
        CHECK(place.column == row.column);
        CHECK(place.length == row.length);
        CHECK(place.text == row.shown);
        CHECK(place.text_from == 1);
    }
}

TEST_CASE("of a very long line the part round the place is shown, with the caret at the right sign", "[text_lines]") {
    std::string line;
    for (int i = 0; i < 33000; ++i) line += "\u00e9";
    line += "WRONG";
    const std::size_t at = line.size() - 5;
    const Place place = TextLines("f.csv", line).place(at, line.size());
    CHECK(place.column == 33001);
    CHECK(place.length == 5);
    CHECK(place.text.size() <= 400);
    Problem problem;
    problem.place = place;
    const std::string shown = to_text(problem);
    const std::size_t text_line = shown.find("\n    ") + 5;
    const std::size_t caret_line = shown.find("\n    ", text_line) + 5;
    // The caret stands under the W: as many code points before it.
    std::size_t before_wrong = 0;
    for (std::size_t i = text_line; shown[i] != 'W'; ++i) before_wrong += (shown[i] & 0xC0) != 0x80;
    CHECK(shown.find('^', caret_line) - caret_line == before_wrong);
}
