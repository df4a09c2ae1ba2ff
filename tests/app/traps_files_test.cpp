// Traps met in real tables of decorative arts: files, and contradictions that are none (traps 33 to 44). See traps_dates_test.cpp.
#include <catch2/catch.hpp>

#include "tests/app/command.h"

using Catch::Contains;
using saggar::testing::CommandGraph;
using saggar::testing::count_of;

namespace {

const std::string head = "subject,relation,object,source,quote\n";

}  // namespace

TEST_CASE("trap 33: Windows-1252 in a UTF-8 file is read, with a warning at the first byte", "[traps]") {
    const CommandGraph graph;
    const std::string said =
        graph.load("c.csv", head +
                                "shape:tern,made-by,maker:skerrow,source:s,S\xC3\xA8vres\nshape:tern,made-by,maker:"
                                "skerrow,source:t,\x93the works\x94 \x96 and so on\x85\n");
    CHECK_THAT(
        said, Contains("c.csv:3:") && Contains("warning") && Contains("[text-windows-1252]") && Contains("2 readings"));
    CHECK_THAT(graph.lines(), Contains("S\xC3\xA8vres") &&
                                  Contains("\xE2\x80\x9Cthe works\xE2\x80\x9D \xE2\x80\x93 and so on\xE2\x80\xA6"));
}

TEST_CASE("trap 34: a byte order mark is no part of the first heading", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", "\xEF\xBB\xBF" + head + "shape:tern,made-by,maker:skerrow,source:s,q\n"),
               Contains("1 claim") && !Contains("warning"));
}

TEST_CASE("trap 35: lines end with CR LF, and LF within cells is data", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load("c.csv",
                                        "subject,relation,object,source,quote\r\nshape:tern,made-by,maker:skerrow,"
                                        "source:s,\"one\ntwo\"\r\nshape:tern,no-such,maker:skerrow,source:s,q\r\n");
    CHECK_THAT(said, Contains("c.csv:4:12: error: unknown relation \"no-such\""));  // lines are those of the file
    graph.load("d.csv",
               "subject,relation,object,source,quote\r\nshape:tern,made-by,maker:skerrow,source:s,\"one\ntwo\"\r\n");
    CHECK_THAT(graph.lines(), Contains("\"quote\":\"one\\ntwo\""));
}

TEST_CASE("trap 36: a table without header is told, and read where the metadata say so", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", "shape:tern,made-by,maker:skerrow,source:s,q\n", "--as table"),
               Contains("c.csv:1:") && Contains("error"));
    const std::string said = graph.load_mapped(
        "p.csv", "tern,Skerrow\n",
        R"("dialect":{"header":false},"aboutUrl":"shape:{a}","saggar:source":"source:cards","tableSchema":{"columns":[{"name":"a"},{"name":"b","propertyUrl":"relation:made-by","valueUrl":"maker:{b}"}]})");
    CHECK_THAT(said, Contains("1 claim"));
}

TEST_CASE("trap 37: a table of 507 columns is read; columns without meaning are left alone", "[traps]") {
    const CommandGraph graph;
    std::string names, cells, columns;
    for (int i = 0; i < 506; ++i) {
        names += ",c" + std::to_string(i);
        cells += ",v" + std::to_string(i);
        columns += R"(,{"titles":"c)" + std::to_string(i) + R"(","name":"c)" + std::to_string(i) + "\"" +
                   (i == 400 ? R"(,"propertyUrl":"field:label")" : "") + "}";
    }
    const std::string said = graph.load_mapped(
        "w.csv", "no" + names + "\n1" + cells + "\n",
        R"("tableSchema":{"aboutUrl":"piece:{no}","columns":[{"titles":"no","name":"no"})" + columns + "]}");
    CHECK_THAT(said, Contains("1 thing") && !Contains("error"));
    CHECK_THAT(graph.lines(), Contains("\"text\":\"v400\""));
}

TEST_CASE("trap 38: a header one column shorter than the rows is told at the first row", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", "subject,relation,object,source\nshape:tern,made-by,maker:skerrow,source:s,q\n"),
               Contains("c.csv:2:") && Contains("[table-long-row]"));
}

TEST_CASE("trap 39: rows that stand twice make one claim and one reading", "[traps]") {
    const CommandGraph graph;
    std::string rows = head;
    for (int i = 0; i < 57; ++i) rows += "shape:s" + std::to_string(i) + ",made-by,maker:skerrow,source:s,q\n";
    for (int i = 0; i < 43; ++i) rows += "shape:s" + std::to_string(i) + ",made-by,maker:skerrow,source:s,q\n";
    CHECK_THAT(graph.load("c.csv", rows), Contains("57 claims, 57 readings"));
}

TEST_CASE("trap 40: a declared count is not taken for links; those that are there are", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load_mapped(
        "p.csv", "piece,count,marks\np1,5,Anchor; Quay\n",
        R"("aboutUrl":"piece:{piece}","saggar:source":"source:cards","tableSchema":{"columns":[{"titles":"piece","name":"piece"},{"titles":"count","name":"count","datatype":"integer"},{"titles":"marks","name":"marks","separator":";","propertyUrl":"relation:bears-mark","valueUrl":"mark:{marks}"}]})");
    CHECK_THAT(said, Contains("2 claims"));
    CHECK_THAT(graph.said("check"), Contains("2 claims"));
}

TEST_CASE("trap 41: a cell of 33 000 characters is read whole", "[traps]") {
    const CommandGraph graph;
    std::string remark;
    for (int i = 0; i < 33'000; ++i) remark += static_cast<char>('a' + i % 26);
    CHECK_THAT(graph.load("e.csv", "key,label,remark\npiece:p,Jug," + remark + "\n"), Contains("1 thing"));
    CHECK_THAT(graph.lines(), Contains(remark));
}

TEST_CASE("trap 42: a registration and a board year that differ by one are two dates, not a dispute", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "shape:tern,introduced-in,\"registered 1936, introduced "
                                          "1937\",source:board,q\nshape:tern,modelled-in,1936,source:register,q\n"),
               Contains("2 claims"));
    CHECK_THAT(graph.said("disputes"), !Contains("tern"));
}

TEST_CASE("trap 43: two sources that agree in the year and not in the price agree in the year", "[traps]") {
    const CommandGraph graph;
    graph.load("c.csv", head +
                            "piece:p,made-in-year,1936,source:a,q\npiece:p,made-in-year,1936,source:b,q\npiece:p,"
                            "measures,12 GBP,source:a,q\npiece:p,measures,14 GBP,source:b,q\n");
    CHECK(count_of(graph.lines(), "\n{\"claim\":") == 3);
    CHECK_THAT(graph.said("disputes"), !Contains("made-in-year"));
}

TEST_CASE("trap 44: a chain of owners that no time order allows keeps every attested step, and shows its dates",
          "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(
        graph.load("c.csv",
                   "subject,relation,object,when,source,quote\npiece:p,held-by,company:a,1950,source:s,q\npiece:p,"
                   "acquired-from,company:b,1941,source:t,q\npiece:p,acquired-from,company:c,1962,source:u,q\n"),
        Contains("3 claims, 3 readings"));
    CHECK_THAT(graph.said("show piece:p"), Contains("1950") && Contains("1941") && Contains("1962"));
}
