// From a table nobody has described to a graph: suggest, check, load, ask.
#include <catch2/catch.hpp>

#include "tests/app/command.h"

using saggar::testing::CommandGraph;

TEST_CASE("a suggestion as it is loads no guess; checked, it loads all", "[suggest]") {
    const CommandGraph graph;
    graph.write("shapes.csv",
                "Shape,Maker,Retailer,Introduced\n"
                "Lantern,Skerrow,Calloway & Dunne,1946\n"
                "Fathom,Skerrow,,ca. 1935\n");
    graph.write("map.json", graph.said("load --suggest shapes.csv 2>/dev/null"));
    const std::string unchecked = graph.said("load shapes.csv --map map.json");
    CHECK(unchecked.find("the column \"maker\" is passed over: its meaning is only proposed (by the word \"maker\")") != std::string::npos);
    CHECK(unchecked.find("shapes.csv: entry 2: 2 things\n") != std::string::npos);  // their labels
    graph.shell("sed -i 's/, \"saggar:proposed\": \"[^,}]*\"//' map.json");
    CHECK(graph.said("load shapes.csv --map map.json") == "shapes.csv: entry 3: 3 things, 5 claims, 5 readings\n");
    CHECK(graph.said("load shapes.csv --map map.json") == "shapes.csv: loaded before, as entry 3; nothing to do\n");
    CHECK(graph.said("show company:calloway-dunne").find("Calloway & Dunne") != std::string::npos);
    CHECK(graph.said("find calloway").find("company:calloway-dunne") != std::string::npos);
    // A label that is there stays; other words for the thing become a further name.
    graph.load("more.csv", "key,label\nmaker:skerrow,Skerrow Pottery Company\n");
    graph.write("shapes.csv", "Shape,Maker,Retailer,Introduced\nTern,Skerrow,,\n");
    graph.said("load shapes.csv --map map.json");
    CHECK(graph.said("show maker:skerrow").find("Skerrow Pottery Company") != std::string::npos);
    CHECK(graph.lines().find("\"label\":\"Skerrow\"}}") == std::string::npos);
}

TEST_CASE("hedge words of the graph's own profile qualify roles", "[suggest]") {
    const CommandGraph graph;
    graph.write("profile.json", graph.shell("'" SAGGAR_BIN_DIR "/saggar' --graph graph profile show | sed 's/\"perhaps\": 0.5/\"perhaps\": 0.5, \"it is whispered\": 0.2/'"));
    REQUIRE(graph.said("profile load profile.json").find("entry 2") == 0);
    const std::string said = graph.load_mapped(
        "p.csv", "id,who,role\n1,Maud,it is whispered painter\n",
        R"("aboutUrl":"piece:{id}","saggar:source":"source:s","tableSchema":{"columns":[{"titles":"id"},{"titles":"who","valueUrl":"person:{who}",
           "saggar:role":"{role}","saggar:roles":[{"saggar:word":"painter","saggar:relation":"painted-by"}]},{"titles":"role"}]})");
    CHECK(said.find("1 claim") != std::string::npos);
    CHECK(graph.lines().find("\"certainty\":\"it is whispered\"") != std::string::npos);
}

TEST_CASE("broken metadata beside a table is told, not passed over", "[suggest]") {
    const CommandGraph graph;
    graph.write("p.csv-metadata.json", R"({"@context": "http://www.w3.org/ns/csvw", "url": "p.csv",,})");
    const std::string said = graph.load("p.csv", "No,Title\n1,a\n");
    CHECK(said.find("p.csv-metadata.json:1:") == 0);
    CHECK(said.find("next: mend the JSON at this place") != std::string::npos);
    CHECK(said.find("p.csv: 1 error; nothing of this file was kept") != std::string::npos);
    // One for several tables that does not describe this one is not meant.
    graph.shell("rm p.csv-metadata.json");
    graph.write("csv-metadata.json", R"({"@context": "http://www.w3.org/ns/csvw", "url": "q.csv",,})");
    CHECK(graph.said("load p.csv").find("csv-metadata.json") == std::string::npos);
}
