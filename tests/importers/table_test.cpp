#include "importers/table.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

using namespace saggar;

namespace {

using Cells = std::vector<std::vector<std::string>>;

Cells cells_of(std::string_view bytes, Problems& problems, TableDialect dialect = {}) {
    TextInput input("f.csv", open_bytes(bytes), problems);
    TableReader reader(input, std::move(dialect));
    Cells all;
    Row row;
    while (reader.next(row)) {
        all.emplace_back();
        for (const Cell& cell : row.cells) all.back().emplace_back(cell.text);
    }
    return all;
}

Cells good_cells(std::string_view bytes, TableDialect dialect = {}) {
    Problems problems;
    Cells cells = cells_of(bytes, problems, std::move(dialect));
    CHECK(problems.list().empty());
    return cells;
}

Problem table_problem(std::string_view bytes) {
    Problems problems;
    cells_of(bytes, problems);
    REQUIRE(problems.errors() == 1);
    return problems.list().front();
}

// RFC 4180 written the plain way, as the other side of the round trip.
std::string written(const Cells& rows, const std::string& line_end) {
    std::string out;
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i) out += ',';
            out += '"';
            for (const char sign : row[i]) {
                if (sign == '"') out += '"';
                out += sign;
            }
            out += '"';
        }
        out += line_end;
    }
    return out;
}

}  // namespace

TEST_CASE("the examples of RFC 4180", "[table]") {
    // Section 2, rules 1 to 7, in order.
    CHECK(good_cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(good_cells("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(good_cells("field_name,field_name\r\naaa,bbb\r\n") == Cells{{"field_name", "field_name"}, {"aaa", "bbb"}});
    CHECK(good_cells("aaa, bbb ,ccc") == Cells{{"aaa", " bbb ", "ccc"}});
    CHECK(good_cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == Cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(good_cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
          Cells{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(good_cells("\"aaa\",\"b\"\"bb\",\"ccc\"") == Cells{{"aaa", "b\"bb", "ccc"}});
}

TEST_CASE("what real tables hold", "[table]") {
    CHECK(good_cells("") == Cells{});
    CHECK(good_cells("\n\n\r\n") == Cells{});
    CHECK(good_cells("a,,\n,,\n") == Cells{{"a", "", ""}, {"", "", ""}});
    CHECK(good_cells("a,b\n\nc,d\n") == Cells{{"a", "b"}, {"c", "d"}});
    CHECK(good_cells("\"\",\"\"\"\"\n") == Cells{{"", "\""}});
    CHECK(good_cells("a\n\"\"\n") == Cells{{"a"}, {""}});
    CHECK(good_cells("6\" plate,8\" plate\n") == Cells{{"6\" plate", "8\" plate"}});
    CHECK(good_cells("\"line one\nline two\",x\r\n") == Cells{{"line one\nline two", "x"}});  // LF inside CRLF rows
    CHECK(good_cells("\xEF\xBB\xBFkey,label\n") == Cells{{"key", "label"}});
    TableDialect tab;
    tab.delimiter = '\t';
    tab.quote = 0;
    tab.comment_prefix = "#";
    CHECK(good_cells("# note\na\t\"b\n#\nc,d\t\n", tab) == Cells{{"a", "\"b"}, {"c,d", ""}});
    TableDialect backslash;
    backslash.delimiter = ';';
    backslash.doubled_quote = false;
    CHECK(good_cells("\"a \\\"b\\\"; \\\\\";c\n", backslash) == Cells{{"a \"b\"; \\", "c"}});
}

TEST_CASE("what cannot be read is reported where it starts", "[table]") {
    struct Row {
        std::string bytes;
        std::string id;
        std::uint32_t line, column;
    };
    for (const Row& row : std::vector<Row>{{"a,b\nc,\"d\ne\nf", "table-unclosed-quote", 2, 3},
                                           {"a,b\n\"c\" d,e\n", "table-text-after-quote", 2, 4},
                                           {"a,b\n\"c\"\u00e9,e\n", "table-text-after-quote", 2, 4},
                                           {"a,b\rc,d\r", "table-lone-cr", 1, 4},
                                           {std::string(10001, ','), "table-many-cells", 1, 10001}}) {
        const Problem problem = table_problem(row.bytes);
        INFO(to_text(problem).substr(0, 200));
        CHECK(problem.id == row.id);
        CHECK(problem.place.line == row.line);
        CHECK(problem.place.column == row.column);
    }
}

TEST_CASE("places of cells", "[table]") {
    Problems problems;
    TextInput input("f.csv", open_bytes("\n\u00e9t\u00e9,\"two\nlines\",\"S\u00e8vres\",x\n"), problems);
    TableReader reader(input);
    Row row;
    REQUIRE(reader.next(row));
    CHECK(row.line == 2);
    CHECK(place_of_cell("f.csv", row, 0).column == 1);
    CHECK(place_of_cell("f.csv", row, 0).length == 3);
    CHECK(place_of_cell("f.csv", row, 1).line == 2);
    CHECK(place_of_cell("f.csv", row, 1).column == 5);
    CHECK(place_of_cell("f.csv", row, 2).line == 3);
    CHECK(place_of_cell("f.csv", row, 2).column == 8);
    CHECK(place_of_cell("f.csv", row, 2).length == 8);
    CHECK(place_of_cell("f.csv", row, 3).column == 17);
    CHECK(place_of_cell("f.csv", row, 4).column == 18);
}

TEST_CASE("any cells written as the RFC says are read back", "[table]") {
    rc::prop("round trip", [] {
        const auto width = *rc::gen::inRange<std::size_t>(1, 6);
        const auto text = rc::gen::container<std::string>(rc::gen::element('a', ' ', ',', '"', '\n', '\r', ';', '\\'));
        const auto rows = *rc::gen::container<Cells>(rc::gen::container<std::vector<std::string>>(width, text));
        for (const std::string line_end : {"\n", "\r\n"}) {
            Problems problems;
            RC_ASSERT(cells_of(written(rows, line_end), problems) == rows);
            RC_ASSERT(problems.list().empty());
        }
    });
}

TEST_CASE("a row longer than the window is read whole, one beyond the limit refused", "[table]") {
    const std::string cell(700000, 'x');
    CHECK(good_cells("a,\"" + cell + "\",b\nc,d,e\n") == Cells{{"a", cell, "b"}, {"c", "d", "e"}});
    Problems problems;
    TextLimits limits;
    limits.piece_bytes = 500000;
    const std::string bytes = "a,b\n\"" + cell;
    TextInput input("f.csv", open_bytes(bytes), problems, limits);
    TableReader reader(input);
    Row row;
    while (reader.next(row)) {
    }
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "table-long-row");
    CHECK(problems.list()[0].place.line == 2);
}
