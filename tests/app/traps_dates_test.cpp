// Traps met in real tables of decorative arts: dates and numbers (traps 1 to 15). Each has a fixture of our own, and is read
// rightly or refused with its place. traps_words_test.cpp and traps_files_test.cpp have the others.
#include <catch2/catch.hpp>

#include "kg/time/span.h"
#include "tests/app/command.h"

using Catch::Contains;
using saggar::testing::CommandGraph;
using saggar::testing::count_of;
namespace time_of = saggar::time;

namespace {

const std::string head = "subject,relation,object,source,quote\n";

// What loading one date says, and the date that was kept.
std::string kept(const std::string& date, std::string* said = nullptr, const std::string& relation = "made-in-year") {
    const CommandGraph graph;
    const std::string answer = graph.load("c.csv", head + (relation == "made-in-year" ? "piece:p," : "shape:p,") +
                                                       relation + ",\"" + date + "\",source:s,q\n");
    if (said) *said = answer;
    const std::string lines = graph.lines();
    const std::size_t at = lines.find("{\"date\":\"");
    return at == std::string::npos ? "" : lines.substr(at + 9, lines.find('"', at + 9) - at - 9);
}

std::string refusal(const std::string& date) {
    std::string said;
    CHECK(kept(date, &said).empty());
    CHECK_THAT(said, Contains("c.csv:2:") && Contains("^") && Contains("next: "));
    return said;
}

}  // namespace

TEST_CASE("trap 1: what \"ca.\" means is the source's to say", "[traps]") {
    CHECK(kept("ca. 1935") == "1935~");
    for (const int years : {0, 5, 10, 12}) {
        const auto span = time_of::read_span("1935~", {.about = years});
        REQUIRE(span);
        CHECK(to_text(span->earliest) == std::to_string(1935 - years) + "-01-01");
        CHECK(to_text(span->latest) == std::to_string(1935 + years) + "-12-31");
    }
    const CommandGraph graph;
    graph.load("s.csv", "key,title,tolerance\nsource:s,Card index,12\n");
    CHECK_THAT(graph.lines(), Contains("\"tolerance\":12"));
}

TEST_CASE("trap 2: two phases in one cell go to the relation that fits", "[traps]") {
    for (const char* const cell : {"1945 (designed), 1946-1949 (manufactured)", "designed 1945, made 1946-49",
                                   "designed, 1945, manufactured 1946-1949", "1945 (designed)  1946-49 (manufactured)",
                                   "designed 1945; made from 1946 to 1949"}) {
        INFO(cell);
        CHECK(kept(cell) == "1946/1949");
    }
    CHECK(kept("c.1894 (designed)  c.1980 (manufactured)") == "1980~");
    CHECK(kept("Introduced 1946", nullptr, "introduced-in") == "1946");
    CHECK(kept("pattern introduced ca. 1878, manufactured ca. 1901", nullptr, "introduced-in") == "1878~");
}

TEST_CASE("trap 3: 2/40, which a spreadsheet makes into Feb-40, is not guessed at", "[traps]") {
    CHECK_THAT(refusal("2/40"), Contains("[written-numeric]"));
    CHECK_THAT(refusal("Feb-40"), Contains("[written-two-digit-year]"));
}

TEST_CASE("trap 4: a day of late December before 1582 may be a moved 1 January", "[traps]") {
    std::string said;
    CHECK(kept("1499-12-22", &said) == "1499-12-22");
    CHECK_THAT(said, Contains("c.csv:2:") && Contains("warning") && Contains("[date-moved]"));
    CHECK(kept("1899-12-22", &said) == "1899-12-22");
    CHECK_THAT(said, !Contains("warning"));
}

TEST_CASE("trap 5: years before our era are ordered as years, not as text", "[traps]") {
    CHECK(kept("-0999") == "-0999");
    const auto earlier = time_of::read_span("-0999");
    const auto later = time_of::read_span("-0044");
    REQUIRE((earlier && later));
    CHECK(earlier->latest < later->earliest);
    CHECK(std::string("-0999") > std::string("-0044"));
}

TEST_CASE("trap 6: 0185 is the year 185, with a warning", "[traps]") {
    std::string said;
    CHECK(kept("0185", &said) == "0185");
    CHECK_THAT(said, Contains("c.csv:2:22: warning: ") && Contains("[date-early-year]"));
}

TEST_CASE("trap 7: days that no calendar has are refused", "[traps]") {
    for (const char* const day : {"31 November 1936", "1936-11-31", "1936-05-00", "00 May 1936", "1936-02-30"})
        CHECK_THAT(refusal(day), Contains("[written-day]") || Contains("[edtf-"));
}

TEST_CASE("trap 8: a cell of four blanks says nothing", "[traps]") {
    CHECK_THAT(refusal("    "), Contains("the object is missing"));
    const CommandGraph graph;
    CHECK_THAT(graph.load("s.csv", "key,title,issued\nsource:s,Ledger,    \n    ,    ,    \n"), Contains("entry 2"));
    CHECK_THAT(graph.lines(), !Contains("issued"));
}

TEST_CASE("trap 9: a range may be written with any dash", "[traps]") {
    for (const char* const run : {"1931-1934", "1931-34",
                                  "1931\xE2\x80\x93"
                                  "34",
                                  "1931\xE2\x80\x93"
                                  "1934",
                                  "1931\xE2\x80\x94"
                                  "1934",
                                  "1931 - 1934",
                                  "1931\xE2\x88\x92"
                                  "1934"}) {
        INFO(run);
        CHECK(kept(run) == "1931/1934");
    }
    CHECK_THAT(refusal("1918-22"), Contains("[written-ambiguous]"));  // a summer of EDTF, or five years
}

TEST_CASE("trap 10: a printed year outside the record's own bounds is a contradiction that is told", "[traps]") {
    const CommandGraph graph;
    graph.load("c.csv",
               "subject,relation,object,source,quote\npiece:p,made-in-year,1936/"
               "1938,source:card,\"1936-1938\"\npiece:p,made-in-year,1941,source:card,printed 1941\n");
    CHECK_THAT(graph.said("date piece:p"), Contains("1936") && Contains("1941"));
    CHECK_THAT(graph.said("disputes"), Contains("piece:p"));
}

TEST_CASE("trap 11: an object number that lost its last zero is found out", "[traps]") {
    const CommandGraph graph;
    const std::string members =
        R"("tableSchema":{"primaryKey":"no","aboutUrl":"piece:{no}","columns":[{"titles":"no","required":true},{"titles":"label","propertyUrl":"field:label"}]})";
    const std::string said = graph.load_mapped("p.csv", "no,label\n2009.1,Jug\n2009.2,Bowl\n2009.1,Tureen\n", members);
    CHECK_THAT(said, Contains("p.csv:4:") && Contains("2009.1") && Contains("1 error; nothing of this file was kept"));
    CHECK_THAT(graph.load_mapped("q.csv", "no,label\n2009.10,Jug\n2009.1,Bowl\n", members), Contains("2 things"));
    CHECK_THAT(graph.lines(), Contains("\"piece:2009.10\"") && Contains("\"piece:2009.1\""));
    CHECK_THAT(refusal("2009.10"), Contains("[written-unread]"));
}

TEST_CASE("trap 12: numbers kept as text read as the same numbers", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "piece:p,capacity,\"1.2 l\",source:s,a\npiece:p,capacity,1.2 l,source:t,b\n"),
               Contains("1 claim, 2 readings"));
}

TEST_CASE("trap 13: an amount in brackets is an editor's and not read as one", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "piece:p,capacity,[1.2] l,source:s,a\n"),
               Contains("c.csv:2:18: error: ") && Contains("[number-invalid]") && Contains("^~~"));
}

TEST_CASE("trap 14: pounds and shillings are no number", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "piece:p,capacity,72 10,source:s,a\n"),
               Contains("c.csv:2:18: error: ") && Contains("\"72 10\""));
    CHECK_THAT(graph.load("d.csv", head + "treatment:t,numbered,72 10,source:s,a\n"),
               Contains("1 claim"));  // as text it is whole
    CHECK_THAT(graph.lines(), Contains("{\"text\":\"72 10\"}"));
}

TEST_CASE("trap 15: a currency is a unit behind the number, and seven of them stay apart", "[traps]") {
    const CommandGraph graph;
    std::string rows = head;
    for (const char* const unit : {"GBP", "USD", "DEM", "FRF", "NLG", "SEK", "CHF"})
        rows += std::string("piece:p,measures,12 ") + unit + ",source:s,a\n";
    CHECK_THAT(graph.load("c.csv", rows), Contains("7 claims"));
    CHECK_THAT(graph.lines(), Contains("{\"number\":\"12\",\"unit\":\"NLG\"}"));
    CHECK_THAT(graph.load("d.csv", head + "piece:p,measures,\xC2\xA3"
                                          "12,source:s,a\n"),
               Contains("d.csv:2:18: error: "));
}
