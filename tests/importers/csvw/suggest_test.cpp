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
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "table-empty");
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

namespace {

nlohmann::json column_of(const nlohmann::json& document, const std::string& title) {
    for (const auto& column : document["tableSchema"]["columns"]) {
        if (column["titles"] == title) return column;
    }
    return {};
}

}  // namespace

TEST_CASE("headings of a collector's table are proposed as relations, and marked", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested(
        "Shape,Designer,Maker,Pattern no.,Retailer,Introduced,Withdrawn,Hersteller,Dekor,Line,Date,Decorator,Source,Notes,Photo,Glaze\n"
        "Lantern,Maud,Skerrow,A.123,Calloway,1946,1950s,,,,,,,fine; rare,,\nFathom,,Skerrow,2/40,,ca. 1935,,,,,,,,,,\n",
        "my sheet.csv"));
    CHECK(document["aboutUrl"] == "shape:{shape}");  // by its heading
    CHECK_FALSE(document.contains("saggar:proposed"));
    CHECK(column_of(document, "Shape")["propertyUrl"] == "field:label");
    const auto proposes = [&](const char* title, const char* property, const char* value) {
        const auto column = column_of(document, title);
        INFO(column);
        CHECK(column.value("propertyUrl", "") == property);
        CHECK(column.value("valueUrl", "") == value);
        CHECK(column.contains("saggar:proposed"));
    };
    proposes("Designer", "relation:designed-by", "person:{designer}");
    proposes("Maker", "relation:made-by", "maker:{maker}");
    proposes("Pattern no.", "relation:numbered", "");
    proposes("Retailer", "relation:sold-by", "company:{retailer}");
    proposes("Introduced", "relation:introduced-in", "");
    proposes("Withdrawn", "relation:dropped-in", "");
    proposes("Hersteller", "relation:made-by", "maker:{hersteller}");
    proposes("Dekor", "relation:treated-with", "treatment:{dekor}");
    proposes("Line", "relation:carries", "line:{line}");
    proposes("Glaze", "relation:glazed-in", "glaze:{glaze}");
    CHECK(column_of(document, "Glaze")["saggar:label"] == "{glaze}");
    // What is unclear is said, and not proposed.
    CHECK(column_of(document, "Date")["rdfs:comment"] == "made-in-year is said of: piece; not of: shape");
    CHECK(column_of(document, "Decorator")["rdfs:comment"] == "could be designed-by, modelled-by");
    CHECK_FALSE(column_of(document, "Source").contains("propertyUrl"));
    // Fields say nothing that could be false; prose with a semicolon is no list.
    CHECK(column_of(document, "Notes") == nlohmann::json::parse(R"({"titles": "Notes", "name": "notes", "propertyUrl": "field:remark"})"));
    CHECK(column_of(document, "Photo")["propertyUrl"] == "field:image");
}

TEST_CASE("a table of roles gets a look-up of them", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested(
        "object_id,person_id,person_name,role_name\n1,7,Maud,possibly Painter\n1,8,Skerrow,Manufacturer\n2,8,Skerrow,Juggler\n", "parts.csv"));
    CHECK(document["aboutUrl"] == "piece:{object_id}");
    CHECK(document["rdfs:comment"] == "rows with the same \"object_id\" speak of one thing");
    const auto party = column_of(document, "person_name");
    CHECK(party["saggar:role"] == "{role_name}");
    CHECK(party["saggar:roles"] == nlohmann::json::parse(R"([{"saggar:word": "manufacturer", "saggar:relation": "made-by"},
                                                             {"saggar:word": "painter", "saggar:relation": "painted-by"}])"));
    CHECK(party.contains("saggar:proposed"));
}

TEST_CASE("what a row speaks of is a proposal where neither heading nor file tells", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested("No.,Height (cm),Markings\n1,12.5,x\n2,9,y\n", "sheet1.csv"));
    CHECK(document["saggar:proposed"] == "that a row speaks of a piece");
    CHECK(column_of(document, "Height (cm)")["saggar:unit"] == "cm");
    CHECK(nlohmann::json::parse(suggested("No.,x\n1,a\n", "potteries.csv"))["aboutUrl"] == "maker:{no}");
    // Numbers of things stay words.
    for (const char* const csv : {"No.,x\n2009.1,a\n2009.10,b\n", "No.,x\n007,a\n7,b\n"})
        CHECK_FALSE(column_of(nlohmann::json::parse(suggested(csv, "p.csv")), "No.").contains("datatype"));
}

TEST_CASE("another vocabulary's own headings count, and the built-in ones where it has the name", "[csvw_suggest]") {
    Problems problems;
    const auto glass = Vocabulary::parse(R"({"vocabulary": "glass", "version": "1", "kinds": {"piece": {"label": "piece"}, "maker": {"label": "maker"}, "mould": {"label": "mould"}},
        "relations": {"made-by": {"from": ["piece"], "to": ["maker"], "label": "made by"}, "pressed-in": {"from": ["piece"], "to": ["mould"], "label": "in"}},
        "headings": {"pressed-in": ["tool no"]}})", problems);
    REQUIRE(glass);
    TextInput input("pieces.csv", open_bytes("No.,Factory,Tool No.,Designer\n1,a,b,c\n"), problems);
    const auto document = nlohmann::json::parse(suggest_metadata(input, "pieces.csv", *glass));
    CHECK(column_of(document, "Factory")["propertyUrl"] == "relation:made-by");
    CHECK(column_of(document, "Tool No.")["valueUrl"] == "mould:{tool_no}");
    CHECK_FALSE(column_of(document, "Designer").contains("propertyUrl"));
    // Its own relation's name goes before a built-in word for another.
    const auto works = Vocabulary::parse(R"({"vocabulary": "v", "version": "1", "kinds": {"piece": {"label": "piece"}, "maker": {"label": "maker"}},
        "relations": {"made-by": {"from": ["piece"], "to": ["maker"], "label": "made by"}, "manufactured-by": {"from": ["piece"], "to": ["maker"], "label": "in"}}})", problems);
    REQUIRE(works);
    TextInput parts("pieces.csv", open_bytes("No.,Manufacturer\n1,a\n"), problems);
    CHECK(column_of(nlohmann::json::parse(suggest_metadata(parts, "pieces.csv", *works)), "Manufacturer")["propertyUrl"] == "relation:manufactured-by");
}

TEST_CASE("labelled dates are proposed under relations of their own, and what is no date is told", "[csvw_suggest]") {
    const auto document = nlohmann::json::parse(suggested(
        "Shape,Introduced\nLantern,\"modelled 1945, introduced 1946\"\nFathom,designed 1931\nTern,in the old days\nOrlop,1950\n", "s.csv"));
    const auto dates = column_of(document, "Introduced");
    CHECK(dates["saggar:phases"] == nlohmann::json::parse(R"([{"saggar:word": "", "saggar:relation": "introduced-in"},
        {"saggar:word": "introduced", "saggar:relation": "introduced-in"}, {"saggar:word": "modelled", "saggar:relation": "modelled-in"}])"));
    CHECK(dates["saggar:unreadable"] == "warn");
    CHECK(dates["rdfs:comment"] == "1 of 4 different cells are no date that can be read and would be passed over, the first: in the old days; "
                                   "no relation is near the word \"designed\" of some dates");
    CHECK_FALSE(dates.contains("datatype"));
}

TEST_CASE("titles above the header, blank rows and totals are no data", "[csvw_suggest]") {
    const std::string csv = "My collection (updated 2019),,,\n,,,\nNo.,Shape,Maker,Made\n1,Lantern,Skerrow,1935\n,,,\n2,Fathom,Skerrow,1936\nTotal: 2,,,\n";
    const auto document = nlohmann::json::parse(suggested(csv, "pieces.csv"));
    CHECK(document["dialect"] == nlohmann::json::parse(R"({"skipRows": 2, "skipBlankRows": true})"));
    CHECK(document["aboutUrl"] == "piece:{no}");
    CHECK(column_of(document, "Shape")["valueUrl"] == "shape:{shape}");
    CHECK_FALSE(nlohmann::json::parse(suggested("No.,Shape\n1,a\n", "p.csv")).contains("dialect"));
}
