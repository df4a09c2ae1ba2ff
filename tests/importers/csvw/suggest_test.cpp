#include "importers/csvw/suggest.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "importers/csvw/metadata.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::csvw;

namespace {

const std::string pieces_csv =
    "No.,Title,made-in-year,bears_mark,Held by,price,seen\nA-1,Jug,ca. 1935,crown;anchor,Maud,12.50,1948-03-02\nA-2,Cup,1948,crown; no 3,Ilse,7,1950-01-01\n";

std::string suggested(const std::string& csv, const std::string& name) {
    Problems problems;
    TextInput input(name, open_bytes(csv), problems);
    const std::string text = suggest_metadata(input, name, Vocabulary::standard());
    CHECK(problems.list().empty());
    return text;
}

}  // namespace

TEST_CASE("a suggestion describes every column", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested(pieces_csv, "pieces.csv"));
    CHECK(document["aboutUrl"] == "piece:{no}");
    CHECK(document["saggar:source"] == "source:pieces");
    const auto& columns = document["tableSchema"]["columns"];
    REQUIRE(columns.size() == 7);
    CHECK(columns[0]["required"] == true);
    CHECK(columns[1]["propertyUrl"] == "field:label");
    CHECK(columns[2]["propertyUrl"] == "relation:made-in-year");
    CHECK(columns[3]["separator"] == ";");
    CHECK(columns[3]["valueUrl"] == "mark:{bears_mark}");
    CHECK(columns[4]["propertyUrl"] == "relation:held-by");
    CHECK(columns[5]["datatype"] == "decimal");
    CHECK(columns[6]["datatype"] == "date");
}

TEST_CASE("a suggestion can be read by as it is", "[csvw_suggest]") {
    const std::string text = suggested(pieces_csv, "pieces.csv");
    Problems problems;
    const auto group = read_metadata(text, "m.json", problems);
    INFO(text << test::all_problems(problems));
    REQUIRE(group);
    CHECK(problems.list().empty());
}

TEST_CASE("where no column tells the rows apart, their number does", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested("a,b\nx,\nx,y\n", "lines.csv"));
    CHECK(document["aboutUrl"] == "line:{_row}");
    Problems problems;
    TextInput empty("e.csv", open_bytes(""), problems);
    CHECK(suggest_metadata(empty, "e.csv", Vocabulary::standard()).empty());
}

// CSVW, Metadata Vocabulary for Tabular Data, section 5.9: a dialect's `delimiter`, by default ",".
TEST_CASE("a suggestion names the sign that parts the cells", "[csvw_suggest]") {
    for (const char sign : {';', '\t', '|'}) {
        std::string csv = "No,\"x;x;x\tx\tx|x|x\",Shape\nB 12,Coble;one,1932\n";
        for (char& c : csv)
            if (c == ',') c = sign;
        const auto document = nlohmann::json::parse(suggested(csv, "patterns.csv"));
        CHECK(document["dialect"]["delimiter"] == std::string(1, sign));
        CHECK(document["tableSchema"]["columns"].size() == 3);
    }
    CHECK_FALSE(nlohmann::json::parse(suggested("No,Shape; size,Year\n1,a;b,2\n", "p.csv")).contains("dialect"));
    CHECK_FALSE(nlohmann::json::parse(suggested("No\n1\n", "p.csv")).contains("dialect"));
}
