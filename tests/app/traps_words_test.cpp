// Traps met in real tables of decorative arts: names, roles and running text (traps 16 to 32). See traps_dates_test.cpp.
#include <catch2/catch.hpp>

#include "tests/app/command.h"

using Catch::Contains;
using saggar::testing::CommandGraph;
using saggar::testing::count_of;

namespace {

const std::string head = "subject,relation,object,source,quote\n";

// A table of pieces with a role and a name in each row.
const std::string roles = R"("aboutUrl":"shape:{piece}","saggar:source":"source:cards",
 "saggar:roles":[{"saggar:word":"Designer","saggar:relation":"designed-by"},{"saggar:word":"Manufacturer","saggar:relation":"made-by"},
  {"saggar:word":"Commissioner and retailer","saggar:relation":"commissioned-by"}],
 "tableSchema":{"columns":[{"titles":"piece","name":"piece"},{"titles":"role","name":"role","suppressOutput":true},
  {"titles":"name","name":"name","propertyUrl":"relation:documents","valueUrl":"{kind}:{name}","saggar:role":"{role}"},{"titles":"kind","name":"kind","suppressOutput":true}]})";

std::string role_said(const std::string& role, const std::string& name, const std::string& kind,
                      std::string* lines = nullptr) {
    const CommandGraph graph;
    const std::string said =
        graph.load_mapped("r.csv", "piece,role,name,kind\ntern,\"" + role + "\"," + name + "," + kind + "\n", roles);
    if (lines) *lines = graph.lines();
    return said;
}

}  // namespace

TEST_CASE("trap 16: one firm under many names and ids is said to be one, and the ids stay", "[traps]") {
    const CommandGraph graph;
    graph.load("e.csv",
               "key,label,also\nmaker:skerrow,Skerrow Pottery Company,S.P.C.; The Skerrow "
               "Works\nmaker:spc,S.P.C.,\nmaker:skerrow-ltd,Skerrow Pottery Ltd,\n");
    CHECK_THAT(graph.said("same --suggest"), Contains("maker:skerrow") && Contains("maker:spc"));
    CHECK_THAT(graph.load("c.csv", head + "maker:skerrow,same-as,maker:spc,source:s,one firm\n"), Contains("1 claim"));
    CHECK_THAT(graph.lines(), Contains("{\"entity\":{\"key\":\"maker:spc\""));
}

TEST_CASE("trap 17: seven people of one name stay seven", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load_mapped(
        "p.csv", "id,name\n1,John Weir\n2,John Weir\n3,John Weir\n4,John Weir\n5,John Weir\n6,John Weir\n7,John Weir\n",
        R"("tableSchema":{"aboutUrl":"person:{id}","columns":[{"titles":"id","name":"id"},{"titles":"name","name":"name","propertyUrl":"field:label"}]})");
    CHECK_THAT(said, Contains("7 things"));
    // By name alone they cannot be told apart: two rows that give one key to different things are told.
    CHECK_THAT(graph.said("find 'john weir'"), Contains("person:1") && Contains("person:7"));
}

TEST_CASE("trap 18: \"Unknown\" is nobody, and thirteen unknowns are not one", "[traps]") {
    const std::string rows = "shape,maker\na,Unknown\nb,Unknown\nc,Skerrow\n";
    const std::string columns =
        R"("aboutUrl":"shape:{shape}","saggar:source":"source:cards","tableSchema":{"columns":[{"titles":"shape","name":"shape"},{"titles":"maker","name":"maker",)";
    const std::string end = R"("propertyUrl":"relation:made-by","valueUrl":"maker:{maker}"}]})";
    const CommandGraph graph;
    CHECK_THAT(graph.load_mapped("a.csv", rows, columns + end),
               Contains("a.csv:2:3: warning: maker:unknown would be one thing") && Contains("[key-of-nobody]"));
    const CommandGraph with_null;
    CHECK_THAT(with_null.load_mapped("a.csv", rows, columns + R"("null":["","Unknown"],)" + end),
               Contains("1 claim") && !Contains("warning"));
}

TEST_CASE("trap 19: \"&\", \"and\" and \"&amp;\" are kept as written and proposed as one firm", "[traps]") {
    const CommandGraph graph;
    graph.load("e.csv",
               "key,label\ncompany:a,Calloway & Dunne\ncompany:b,Calloway and Dunne\ncompany:c,Calloway &amp; Dunne\n");
    CHECK_THAT(graph.lines(), Contains("Calloway & Dunne") && Contains("Calloway &amp; Dunne"));
    CHECK_THAT(graph.said("same --suggest"), Contains("company:a") && Contains("company:b") && Contains("company:c"));
}

TEST_CASE("trap 20: joint names in one cell become several by a separator", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load_mapped(
        "s.csv", "shape,by\ntern,Maud Ennersley & Tobias Wrenholt\n",
        R"("aboutUrl":"shape:{shape}","saggar:source":"source:cards","tableSchema":{"columns":[{"titles":"shape","name":"shape"},{"titles":"by","name":"by","separator":" & ","propertyUrl":"relation:designed-by","valueUrl":"person:{by}"}]})");
    CHECK_THAT(said, Contains("2 claims"));
    CHECK_THAT(graph.lines(), Contains("person:maud-ennersley") && Contains("person:tobias-wrenholt"));
}

TEST_CASE("trap 21: blanks round names and headers do not make other things", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv",
                          "subject ,relation , object,source , quote\nshape:tern , made-by,maker:skerrow ,source:s "
                          ",q\nshape:tern,made-by,maker:skerrow,source:t,q\n"),
               Contains("1 claim, 2 readings"));
}

TEST_CASE("trap 22: an empty role says nothing, where the metadata say so, and is told elsewhere", "[traps]") {
    CHECK_THAT(role_said("", "Skerrow", "maker"), Contains("r.csv:2:9: error: the role \"\" stands in no look-up"));
    std::string with_empty = roles;
    with_empty.replace(with_empty.find("{\"saggar:word\":\"Designer\""), 0, "{\"saggar:word\":\"\"},");
    const CommandGraph graph;
    CHECK_THAT(graph.load_mapped("r.csv", "piece,role,name,kind\ntern,,Skerrow,maker\norlop,Manufacturer,Skerrow,maker\n", with_empty), Contains("1 claim, 1 reading"));
}

TEST_CASE("trap 23: a plural role is no known role until the metadata name it", "[traps]") {
    CHECK_THAT(role_said("Designers", "Maud", "person"),
               Contains("r.csv:2:") && Contains("Designers") && Contains("next: "));
}

TEST_CASE("trap 24: a misspelt role is told, not guessed", "[traps]") {
    CHECK_THAT(role_said("Desginer", "Maud", "person"),
               Contains("r.csv:2:") && Contains("Desginer") && Contains("nothing of this file was kept"));
}

TEST_CASE("trap 25: a role qualified inside itself keeps its doubt", "[traps]") {
    std::string lines;
    CHECK_THAT(role_said("possibly Designer", "Maud", "person", &lines), Contains("1 claim"));
    CHECK_THAT(lines, Contains("\"certainty\":\"possibly\"") && Contains("designed-by"));
    CHECK_THAT(role_said("Designer (attributed to)", "Maud", "person", &lines), Contains("1 claim"));
    CHECK_THAT(lines, Contains("\"certainty\":\"attributed to\""));
    CHECK_THAT(role_said("Commissioner and retailer", "Calloway", "company", &lines), Contains("1 claim"));
    CHECK_THAT(lines, Contains("commissioned-by"));
    // "Formerly attributed to" is a view given up: it needs an entry of its own.
    CHECK_THAT(role_said("formerly attributed to", "Maud", "person"),
               Contains("r.csv:2:") && Contains("formerly attributed to"));
}

TEST_CASE("trap 26: designer and manufacturer swapped for a series show by their kinds", "[traps]") {
    CHECK_THAT(role_said("Manufacturer", "Maud Ennersley", "person"),
               Contains("r.csv:2:") && Contains("made-by") && Contains("nothing of this file was kept"));
}

TEST_CASE("trap 27: a person as manufacturer is refused with the kinds that may make", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "shape:tern,made-by,person:maud,source:s,q\n"),
               Contains("c.csv:2:20: error: ") && Contains("maker") && Contains("^~~~~"));
}

TEST_CASE("trap 28: a chain of owners in one cell, parted by semicolons", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load_mapped(
        "o.csv", "piece,chain\np1,\"Calloway; Harbour; Larkholm\"\n",
        R"("aboutUrl":"piece:{piece}","saggar:source":"source:file","tableSchema":{"columns":[{"titles":"piece","name":"piece"},{"titles":"chain","name":"chain","separator":";","propertyUrl":"relation:acquired-from","valueUrl":"company:{chain}"}]})");
    CHECK_THAT(said, Contains("3 claims"));
    CHECK_THAT(graph.lines(), Contains("company:harbour"));
}

TEST_CASE("trap 29: a chain of owners as lines \"A / to / B\"", "[traps]") {
    const CommandGraph graph;
    const std::string said = graph.load_mapped(
        "o.csv", "piece,chain\r\np1,\"Calloway\nto\nHarbour\"\r\n",
        R"("aboutUrl":"piece:{piece}","saggar:source":"source:file","tableSchema":{"columns":[{"titles":"piece","name":"piece"},{"titles":"chain","name":"chain","separator":"\nto\n","propertyUrl":"relation:acquired-from","valueUrl":"company:{chain}"}]})");
    CHECK_THAT(said, Contains("2 claims"));
    CHECK_THAT(graph.lines(), Contains("company:calloway") && Contains("company:harbour"));
}

TEST_CASE("trap 30: \"1936: acquired by\" is no date and no key, and stays whole as a remark", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "piece:p,acquired-from,1936: acquired by Calloway,source:s,q\n"),
               Contains("c.csv:2:23: error: ") && Contains("is not a key"));
    CHECK_THAT(graph.load("d.csv", head + "piece:p,made-in-year,1936: acquired by Calloway,source:s,q\n"),
               Contains("d.csv:2:") && Contains("error"));
    graph.load("e.csv", "key,label,remark\npiece:p,Jug,1936: acquired by Calloway\n");
    CHECK_THAT(graph.lines(), Contains("1936: acquired by Calloway"));
}

TEST_CASE("trap 31: footnote marks stay in words and are refused in dates and keys", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "piece:p,made-in-year,\"1936 [1,2]\",source:s,q\n"),
               Contains("c.csv:2:") && Contains("error"));
    CHECK_THAT(graph.load("d.csv", head + "shape:tern,made-by,\"maker:skerrow [1,2]\",source:s,q\n"),
               Contains("d.csv:2:") && Contains("error"));
    graph.load("e.csv", head + "shape:tern,made-by,maker:skerrow,source:s,\"made by Skerrow [1,2]\"\n");
    CHECK_THAT(graph.lines(), Contains("made by Skerrow [1,2]"));
}

TEST_CASE("trap 32: \"see note [2]\" is a remark, not a value", "[traps]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("c.csv", head + "shape:tern,made-by,see note [2],source:s,q\n"),
               Contains("c.csv:2:20: error: ") && Contains("see note [2]"));
}
