#include "importers/csvw/row_records.h"

#include <catch2/catch.hpp>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "importers/csvw/role_words.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

namespace {

// Reads a table by metadata whose members are given, through the checks.
Collected read_mapped(const std::string& members, const std::string& csv, Problems& problems) {
    const fs::path map = fs::temp_directory_path() / ("saggar-row-records-" + std::to_string(::getpid()) + ".json");
    std::ofstream(map) << R"({"@context":"http://www.w3.org/ns/csvw","url":"pieces.csv",)" << members << "}";
    ReadOptions options;
    options.map = map;
    Collected collected = read_text(csv, "pieces.csv", problems, options);
    fs::remove(map);
    return collected;
}

Collected good_mapped(const std::string& members, const std::string& csv) {
    Problems problems;
    Collected collected = read_mapped(members, csv, problems);
    INFO(all_problems(problems));
    CHECK(problems.errors() + problems.warnings() == 0);
    return collected;
}

std::string the_id(const std::string& members, const std::string& csv) {
    Problems problems;
    read_mapped(members, csv, problems);
    INFO(all_problems(problems));
    REQUIRE(problems.errors() + problems.warnings() == 1);
    CHECK_FALSE(problems.list().front().next_step.empty());
    return problems.list().front().id;
}

const std::string about = R"("aboutUrl":"piece:{no}","saggar:source":"source:cards",)";

}  // namespace

TEST_CASE("cells become entities, claims with their source, dates, numbers", "[csvw_records]") {
    const Collected read = good_mapped(
        about + R"("tableSchema":{"columns":[
        {"titles":"no"},
        {"titles":"what","propertyUrl":"field:label"},
        {"titles":"made","propertyUrl":"relation:made-in-year"},
        {"titles":"holds","datatype":{"base":"decimal","format":{"decimalChar":","}},"propertyUrl":"relation:capacity","saggar:unit":"l"},
        {"titles":"marks","separator":"; ","propertyUrl":"relation:bears-mark","valueUrl":"mark:{marks}"},
        {"titles":"owner","propertyUrl":"relation:held-by","valueUrl":"person:{owner}","saggar:certainty":"probably"},
        {"titles":"page","datatype":"integer"},
        {"name":"title","virtual":true,"aboutUrl":"source:cards","propertyUrl":"field:title","default":"Card index"}]})",
        "no,what,made,holds,marks,owner,page\nA-12,Jug,ca. 1935,\"1,2\",Crown; Anchor 3,Maud Ennersley,7\n");
    CHECK(read.only<Entity>().key == "piece:a-12");
    CHECK(read.only<Entity>().label.text == "Jug");
    CHECK(read.only<Source>().title == "Card index");
    const auto claims = read.all<Claim>();
    const auto evidence = read.all<Evidence>();
    REQUIRE(claims.size() == 5);
    CHECK(claims[0].object == Value{Value::Type::date, "1935~", ""});
    CHECK(evidence[0].quote == "ca. 1935");
    CHECK(evidence[0].at == "made");
    CHECK(evidence[0].source == "source:cards");
    CHECK(claims[1].object == Value{Value::Type::number, "1.2", "l"});
    CHECK(evidence[1].quote == "1,2");
    CHECK(claims[2].object.text == "mark:crown");
    CHECK(claims[3].object.text == "mark:anchor-3");
    CHECK(claims[4].object.text == "person:maud-ennersley");
    CHECK(evidence[4].certainty == "probably");
}

TEST_CASE("a role in a cell chooses the relation, qualified words become hedges", "[csvw_records]") {
    const std::string roles = about + R"("tableSchema":{"columns":[
        {"titles":"no"},
        {"titles":"who","valueUrl":"company:{who}","saggar:role":"{role}","saggar:at":"row {_row}","saggar:quote":"{role}: {who}",
         "saggar:roles":[{"saggar:word":"retailer","saggar:relation":"sold-by"},
                         {"saggar:word":"commissioner and retailer","saggar:relation":"commissioned-by"},
                         {"saggar:word":"commissioner and retailer","saggar:relation":"sold-by"},
                         {"saggar:word":"formerly retailer","saggar:relation":"sold-by","saggar:stance":"against"},
                         {"saggar:word":"donor"}]},
        {"titles":"role"}],"aboutUrl":"line:{no}"})";
    const Collected read = good_mapped(
        roles,
        "no,who,role\na,Calloway,Retailer\nb,Calloway,possibly retailer\nc,Calloway,Retailer (attributed "
        "to)\nd,Calloway,retailer?\n"
        "e,Calloway,Commissioner and  retailer\nf,Calloway,formerly retailer\ng,Calloway,Donor\nh,,Retailer\n");
    const auto claims = read.all<Claim>();
    const auto evidence = read.all<Evidence>();
    REQUIRE(claims.size() == 7);
    CHECK(claims[0].relation == "sold-by");
    CHECK(evidence[0].certainty.empty());
    CHECK(evidence[0].quote == "Retailer: Calloway");
    CHECK(evidence[0].at == "row 1");
    CHECK(evidence[1].certainty == "possibly");
    CHECK(evidence[2].certainty == "attributed to");
    CHECK(evidence[3].certainty == "possibly");
    CHECK(claims[4].relation == "commissioned-by");
    CHECK(claims[5].relation == "sold-by");
    CHECK(evidence[6].stance == Stance::against);
    Problems problems;
    read_mapped(roles, "no,who,role\na,Calloway,Lender\n", problems);
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "csvw-role");
    CHECK(problems.list()[0].place.line == 2);
}

TEST_CASE("dates of several phases in one cell", "[csvw_records]") {
    const std::string phases =
        R"("aboutUrl":"item:{no}","saggar:source":"source:cards","tableSchema":{"columns":[{"titles":"no"},
        {"titles":"date","propertyUrl":"relation:introduced-in","saggar:phases":[
            {"saggar:word":"modelled","saggar:relation":"modelled-in"},{"saggar:word":"made"}]}]})";
    const Collected read = good_mapped(phases, "no,date\na,\"modelled 1945, made 1946-49\"\nb,1950\n");
    const auto claims = read.all<Claim>();
    REQUIRE(claims.size() == 2);
    CHECK(claims[0].relation == "modelled-in");
    CHECK(claims[0].object.text == "1945");
    CHECK(claims[1].relation == "introduced-in");
    CHECK(claims[1].object.text == "1950");
    CHECK(the_id(phases, "no,date\na,\"patented 1945, made 1946\"\n") == "csvw-phase");
}

TEST_CASE("what the metadata cannot mean is told at its place", "[csvw_records]") {
    const std::string csv = "no,x\na,b\n";
    const auto columns = [](const std::string& x) {
        return R"("tableSchema":{"columns":[{"titles":"no"},{"titles":"x",)" + x + "}]}";
    };
    CHECK(the_id(about + columns(R"("propertyUrl":"relation:made-in-yaer")"), csv) == "relation-unknown");
    CHECK(the_id(about + columns(R"("propertyUrl":"field:colour")"), csv) == "csvw-unknown-field");
    CHECK(the_id(columns(R"("propertyUrl":"field:label")"), csv) == "csvw-no-subject");
    CHECK(the_id(about + columns(R"("lang":"en")"), csv) == "csvw-nothing-to-read");
    CHECK(the_id(about + columns(R"("propertyUrl":"field:label","aboutUrl":"piece:{number}")"), csv) ==
          "csvw-template");
    CHECK(the_id(about + columns(R"("propertyUrl":"field:label","saggar:value":"{number}")"), csv) == "csvw-template");
    CHECK(the_id(about + columns(R"("propertyUrl":"field:label","saggar:colour":"red")"), csv) ==
          "csvw-unknown-annotation");
    CHECK(the_id(R"("aboutUrl":"piece:{no}",)" + columns(R"("propertyUrl":"relation:made-in-year")"),
                 "no,x\na,1948\n") == "source-missing");
    CHECK(the_id(about + columns(R"("propertyUrl":"relation:held-by","valueUrl":"{x}")"), csv) == "csvw-no-key");
    CHECK(the_id(about + columns(R"("propertyUrl":"relation:made-in-year")"), "no,x\na,long ago\n") ==
          "written-unread");
    Problems problems;
    read_mapped(about + columns(R"("propertyUrl":"relation:made-in-year","saggar:unreadable":"warn")"),
                "no,x\na,long ago\n", problems);
    CHECK(problems.errors() == 0);
    CHECK(problems.warnings() == 1);
}

TEST_CASE("two names that give one key are told", "[csvw_records]") {
    const std::string members =
        about +
        R"("tableSchema":{"columns":[{"titles":"no"},{"titles":"owner","propertyUrl":"relation:held-by","valueUrl":"company:{owner}"}]})";
    CHECK(the_id(members, "no,owner\n1,Calloway & Dunne\n2,Calloway Dunne\n") == "csvw-same-key");
    good_mapped(members, "no,owner\n1,Calloway & Dunne\n2,calloway & dunne\n");
}

TEST_CASE("roles are split from their hedges", "[csvw_records]") {
    const std::vector<std::string> hedges = {"attributed to", "possibly", "probably not"};
    const auto second = [&](const std::string& text) {
        const auto readings = csvw::split_role(text, hedges);
        return readings.size() < 2 ? "" : readings[1].word + "/" + readings[1].certainty;
    };
    CHECK(second("Designer").empty());
    CHECK(second("possibly Designer") == "designer/possibly");
    CHECK(second("Designer (possibly)") == "designer/possibly");
    CHECK(second("Designer, attributed to") == "designer/attributed to");
    CHECK(second("Probably not: Designer") == "designer/probably not");
    CHECK(second("Designer ?") == "designer/possibly");
    CHECK(second("possibly").empty());
}

TEST_CASE("what is only proposed is passed over with a warning", "[csvw_records]") {
    const std::string proposed = R"({"titles":"made","propertyUrl":"relation:made-in-year","saggar:proposed":"by the word \"made\""})";
    Problems problems;
    const Collected read = read_mapped(about + R"("tableSchema":{"columns":[{"titles":"no","propertyUrl":"field:label"},)" + proposed + "]}", "no,made\nA-12,1935\n", problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "csvw-proposed");
    CHECK(problems.list()[0].severity == Severity::warning);
    CHECK(problems.list()[0].place.line == 1);
    CHECK(read.all<Claim>().empty());
    CHECK(read.only<Entity>().label.text == "A-12");
    // Nothing but proposals, here on the whole table: there is nothing to read.
    Problems none;
    read_mapped(about + R"("saggar:proposed":"a piece","tableSchema":{"columns":[{"titles":"no","propertyUrl":"field:label"}]})", "no\nA-12\n", none);
    CHECK(none.errors() == 1);
    CHECK(none.list().back().next_step.find("saggar:proposed") != std::string::npos);
}

TEST_CASE("the words that name a thing can become its label", "[csvw_records]") {
    const Collected read = good_mapped(about + R"("tableSchema":{"columns":[{"titles":"no"},
        {"titles":"by","separator":"; ","propertyUrl":"relation:bears-mark","valueUrl":"mark:{by}","saggar:label":"{by}"}]})",
        "no,by\nA-12,Crown & Ship; Anchor\nA-13,crown & ship\nA-14,\n");
    const auto things = read.all<Entity>();
    REQUIRE(things.size() == 2);  // the first words stay, and an empty cell names nothing
    CHECK(things[0].key == "mark:crown-ship");
    CHECK(things[0].label.text == "Crown & Ship");
    CHECK(things[1].label.text == "Anchor");
    CHECK(read.all<Claim>().size() == 3);
}

// Metadata Vocabulary for Tabular Data, sections 5.3 to 5.9: properties that are right and of which we keep nothing.
TEST_CASE("every property of the Recommendation that has no effect is told", "[csvw_records]") {
    const std::string columns = R"("columns":[{"titles":"no","propertyUrl":"field:label"}])";
    for (const auto& [name, members] : std::vector<std::pair<std::string, std::string>>{
             {"notes", R"("notes":[{}],"tableSchema":{)" + columns + "}"},
             {"tableDirection", R"("tableDirection":"rtl","tableSchema":{)" + columns + "}"},
             {"textDirection", R"("textDirection":"rtl","tableSchema":{)" + columns + "}"},
             {"transformations", R"("transformations":[{"url":"x","scriptFormat":"http://x/","targetFormat":"http://y/"}],"tableSchema":{)" + columns + "}"},
             {"rowTitles", R"("tableSchema":{"rowTitles":"no",)" + columns + "}"},
             {"ordered", R"("tableSchema":{"columns":[{"titles":"no","propertyUrl":"field:also","separator":";","ordered":true}]})"},
             {"lineTerminators", R"("dialect":{"lineTerminators":["\n","|"]},"tableSchema":{)" + columns + "}"}}) {
        Problems problems;
        const Collected read = read_mapped(R"("aboutUrl":"piece:{no}","saggar:source":"source:s",)" + members, "no\n12\n", problems);
        INFO(name << '\n' << all_problems(problems));
        REQUIRE(problems.list().size() == 1);
        CHECK(problems.list()[0].id == "csvw-unused");
        CHECK(problems.list()[0].severity == Severity::warning);
        CHECK(problems.list()[0].message.find("\"" + name + "\"") == 0);
        CHECK(problems.list()[0].place.line == 1);
        CHECK(read.all<Entity>().size() == 1);
    }
    // What changes nothing is not told.
    good_mapped(R"("aboutUrl":"piece:{no}","dialect":{"lineTerminators":["\r\n","\n"]},"tableSchema":{"columns":[{"titles":"no","ordered":false,"propertyUrl":"field:label"}]})", "no\n12\n");
}

TEST_CASE("problems with a label stand at the cell it came from", "[csvw_records]") {
    Problems problems;
    read_mapped(about + R"("tableSchema":{"columns":[{"titles":"no"},{"titles":"x"},{"titles":"what","propertyUrl":"field:label"}]})", "no,x,what\nA-12,y,#REF!\n", problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "spreadsheet-cell");
    CHECK(problems.list()[0].place.line == 2);
    CHECK(problems.list()[0].place.column == 8);
}

// RFC 6570, sections 3.2.2 to 3.2.8; what becomes a field is a URL, what becomes an object a thing.
TEST_CASE("a valueUrl of a field stays the URL that it is", "[csvw_records]") {
    const Collected read = good_mapped(about + R"("tableSchema":{"columns":[{"titles":"no"},{"titles":"x"},
        {"name":"u","virtual":true,"propertyUrl":"field:identifier","valueUrl":"http://x.example/{x}{?no,x}{&x:3}{/no*}{#x}"},
        {"name":"v","virtual":true,"propertyUrl":"relation:bears-mark","valueUrl":"mark:{x}"}]})",
        "no,x\n1,A b/c?\n2,\n");
    const auto things = read.all<Entity>();
    REQUIRE(things.size() == 2);
    CHECK(things[1].identifiers == std::vector<std::string>{"http://x.example/?no=2/2"});
    CHECK(things[0].identifiers == std::vector<std::string>{"http://x.example/A%20b%2Fc%3F?no=1&x=A%20b%2Fc%3F&x=A%20b/1#A%20b/c?"});
    CHECK(read.only<Claim>().object.text == "mark:a-b-c");  // where all columns of a template are empty, nothing is said
}

TEST_CASE("a heading in another language than its title is told so", "[csvw_records]") {
    Problems problems;
    read_mapped(about + R"("lang":"fr","tableSchema":{"columns":[{"titles":{"de":"no"},"propertyUrl":"field:label"}]})", "no\n1\n", problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].message == "the heading \"no\" is in the language fr of the column (\"lang\"), its title in the metadata in de");
}
