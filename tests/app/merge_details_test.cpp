// What a merge does with words that differ, descriptions that differ, pictures, parts of a history and rulings that differ; and
// that its JSON keeps to its schema, judged by python3-jsonschema.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/app/command.h"
#include "tests/python_reference.h"

namespace fs = std::filesystem;
using nlohmann::json;
using saggar::testing::CommandGraph;

namespace {

bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

// The graph of somebody else, in the same folder.
std::string theirs(const CommandGraph& graph, const std::string& words) {
    return graph.shell("SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph theirs " + words);
}

json merged(const CommandGraph& graph, const std::string& words) {
    const std::string said = graph.said("--json merge " + words);
    INFO(said);
    const json answer = json::parse(said, nullptr, false);
    REQUIRE(answer.is_object());
    if (saggar::test::python_has("jsonschema")) {
        std::ofstream(graph.path("schema-check.py"))
            << "import json, jsonschema, sys\nschema = json.load(open(sys.argv[1]))\n"
               "jsonschema.Draft7Validator.check_schema(schema)\njsonschema.validate(json.load(open(sys.argv[2])), schema)\nprint('sound')\n";
        graph.write("answer.json", said);
        CHECK(graph.shell("/usr/bin/python3 schema-check.py '" SAGGAR_SOURCE_DIR "/app/schema/merge.json' answer.json") == "sound\n");
    } else {
        WARN("python3-jsonschema is not there: the schema is not checked");
    }
    return answer;
}

// The tableware vocabulary with one relation and one kind of their own.
std::string their_vocabulary(const CommandGraph& graph) {
    json words = json::parse(graph.said("--json show vocabulary"));
    words["kinds"]["saggar-mark"] = {{"label", "saggar mark"}, {"class", words["kinds"]["mark"].value("class", "")}};
    if (words["kinds"]["saggar-mark"]["class"] == "") words["kinds"]["saggar-mark"].erase("class");
    words["relations"]["moulded-by"] = {{"from", {"shape"}}, {"to", {"person"}}, {"label", "was moulded by"}, {"inverse", "moulded"}};
    return words.dump();
}

const std::string books = R"({"source":{"key":"source:book","title":"A book","type":"book"}}
{"source":{"key":"source:letter","title":"A letter","type":"letter"}}
)";

}  // namespace

TEST_CASE("their words become ours by --map, or are taken with --take-words, or are refused at their place", "[merge]") {
    const CommandGraph graph;
    graph.write("words.json", their_vocabulary(graph));
    theirs(graph, "start --author Bea --vocabulary words.json");
    graph.write("books.jsonl", books);
    theirs(graph, "load books.jsonl");
    theirs(graph, "note shape:tern moulded-by person:ennersley --source source:book --at page=3 --quote 'by her hand'");

    const json refused = merged(graph, "theirs");
    CHECK(refused["errors"] == 1);
    CHECK(refused["problems"][0]["file"].get<std::string>().find("theirs, entry 3") == 0);
    CHECK(has(refused["problems"][0]["message"], "moulded-by"));
    CHECK_FALSE(refused.contains("entries"));
    CHECK(graph.said("--json history").find("\"merge\"") == std::string::npos);  // nothing was kept

    graph.write("map.json", R"({"relations": {"moulded-by": "modelled"}})");
    const json turned = merged(graph, "theirs --map map.json --dry-run");  // an inverse name of ours turns the claim round: here it may not
    CHECK(turned["errors"] != 0);
    graph.write("map.json", R"({"relations": {"moulded-by": "modelled-by"}})");
    const json mapped = merged(graph, "theirs --map map.json");
    CHECK(mapped["errors"] == 0);
    CHECK(mapped["new"]["claims"] == 1);
    bool told = false;
    for (const json& one : mapped["words"]) told = told || (one["name"] == "moulded-by" && one["mapped"] == true);
    CHECK(told);
    const std::string shown = graph.said("show shape:tern");
    CHECK(has(shown, "by her hand"));
    CHECK_FALSE(has(shown, "moulded"));
    CHECK(merged(graph, "theirs --map map.json")["new"]["claims"] == 0);  // the same again

    const CommandGraph second;
    second.shell("cp -r '" + graph.path("theirs").string() + "' theirs");
    const json taken = merged(second, "theirs --take-words");
    CHECK(taken["errors"] == 0);
    CHECK(taken["words_taken"] == json({"saggar-mark", "moulded-by"}));
    CHECK(has(second.said("show vocabulary"), "moulded-by"));
    CHECK(has(second.said("show shape:tern"), "moulded by"));
    CHECK(has(second.said("--json history"), "words of theirs taken into the vocabulary"));
    second.write("bad.json", R"({"colours": {}})");
    CHECK(has(second.said("merge theirs --map bad.json"), "unknown part \"colours\""));
}

TEST_CASE("where two descriptions differ ours stays, theirs is told and kept where there is room", "[merge]") {
    const CommandGraph graph;
    graph.load("ours.jsonl", R"({"entity":{"key":"shape:tern","label":{"text":"Tern"},"remark":"cut rim"}}
{"source":{"archive":"Quay Hall","key":"source:book","title":"A book","type":"book"}}
)");
    theirs(graph, "start --author Bea");
    graph.write("hers.jsonl", R"({"entity":{"key":"shape:tern","label":{"text":"Sea Tern"},"remark":"rolled foot","identifiers":["https://example.org/tern"]}}
{"source":{"archive":"Garrow House","author":"H. Hale","key":"source:book","title":"A book","type":"book"}}
)");
    theirs(graph, "load hers.jsonl");
    const json answer = merged(graph, "theirs");
    std::map<std::string, std::pair<std::string, std::string>> fields;
    for (const json& one : answer["fields"]) fields[one["key"].get<std::string>() + " " + one["field"].get<std::string>()] = {one["ours"], one["theirs"]};
    const std::map<std::string, std::pair<std::string, std::string>> expected = {{"shape:tern label", {"Tern", "Sea Tern"}},
                                                                                {"source:book archive", {"Quay Hall", "Garrow House"}}};
    CHECK(fields == expected);
    const json tern = json::parse(graph.said("--json show shape:tern"))["entity"];
    CHECK(tern["label"]["text"] == "Tern");
    CHECK(tern["also"][0]["text"] == "Sea Tern");
    CHECK(tern["remark"] == "cut rim\nrolled foot");
    CHECK(tern["identifiers"][0] == "https://example.org/tern");
    const json book = json::parse(graph.said("--json show source:book"))["source"];
    CHECK(book["archive"] == "Quay Hall");
    CHECK(book["author"] == "H. Hale");
    CHECK(merged(graph, "theirs")["new"]["entities"] == 0);
}

TEST_CASE("pictures of the sources that come are copied, those of private ones are not", "[merge]") {
    const CommandGraph graph;
    theirs(graph, "start --author Bea");
    fs::create_directories(graph.path("photographs"));
    graph.shell("printf 'P6 1 1 255 abc' > photographs/tern-open.ppm");
    // One red pixel as PNG, and another as GIF, so that the two have different bytes.
    graph.shell("printf 'R0lGODlhAQABAIAAAP8AAP///yH5BAAAAAAALAAAAAABAAEAAAICRAEAOw==' | base64 -d > photographs/tern-open.gif");
    graph.shell("printf 'R0lGODlhAQABAIAAAAAA/////yH5BAAAAAAALAAAAAABAAEAAAICRAEAOw==' | base64 -d > photographs/tern-hidden.gif");
    graph.shell("rm photographs/tern-open.ppm");
    const std::string loaded = theirs(graph, "load photographs");
    INFO(loaded);
    const auto files = [&](const char* folder) {
        std::size_t count = 0;
        if (fs::is_directory(graph.path(folder)))
            for (const auto& file : fs::directory_iterator(graph.path(folder))) count += file.is_regular_file();
        return count;
    };
    REQUIRE(files("theirs/media") == 2);
    // The second is marked private.
    theirs(graph, "export -o hers.jsonl");
    std::ifstream lines(graph.path("hers.jsonl"));
    std::string hidden;
    for (std::string line; std::getline(lines, line);)
        if (line.find("{\"source\"") == 0 && has(line, "hidden")) hidden = json::parse(line)["source"]["key"];
    REQUIRE_FALSE(hidden.empty());
    graph.write("mark.jsonl", json{{"source", {{"key", hidden}, {"private", true}}}}.dump() + "\n");
    CHECK(has(theirs(graph, "load mark.jsonl"), "1 source"));
    const json answer = merged(graph, "theirs");
    CHECK(answer["pictures"] == 1);
    CHECK(answer["left_out"].get<int>() > 0);
    CHECK(files("graph/media") == 1);
    CHECK(has(graph.said("check"), "the graph is whole"));
    CHECK(merged(graph, "theirs")["pictures"] == 0);
    CHECK(merged(graph, "theirs --with-private")["pictures"] == 1);
    CHECK(files("graph/media") == 2);
}

TEST_CASE("a part of a history puts again what both had withdrawn, and withdraws again what was put again", "[merge]") {
    const CommandGraph graph;
    graph.load("books.jsonl", books);
    const std::string note = "note shape:tern modelled-by person:ennersley --source source:book --at page=3";
    graph.said(note);
    const std::string claim = "'shape:tern modelled-by person:ennersley'";
    graph.said("withdraw " + claim + " --reason misread");
    graph.shell("cp -r graph theirs");
    const auto entry = [&] { return std::to_string(json::parse(theirs(graph, "--json history"))["entries"].size()); };
    const std::string before = entry();
    theirs(graph, note);  // she has read it again
    theirs(graph, "export --since " + before + " -o part.jsonl");
    const json revived = merged(graph, "part.jsonl");
    CHECK(revived["errors"] == 0);
    CHECK(revived["whole"] == false);
    CHECK(has(graph.said("weigh " + claim), "was modelled by"));
    CHECK(merged(graph, "part.jsonl")["new"]["claims"] == 0);
    const std::string middle = entry();
    theirs(graph, "withdraw " + claim + " --reason 'misread after all'");
    theirs(graph, "export --since " + middle + " -o second.jsonl");
    const json gone = merged(graph, "second.jsonl");
    REQUIRE(gone["withdrawn"].size() == 1);
    CHECK(gone["withdrawn"][0]["reason"] == "misread after all");
    // An old part, in which it is put for the first time, does not put it again.
    CommandGraph first;
    first.load("books.jsonl", books);
    first.said(note);
    first.said("export --since 2 -o old.jsonl");
    fs::copy(first.path("old.jsonl"), graph.path("old.jsonl"));
    const json old = merged(graph, "old.jsonl");
    CHECK(old["new"]["claims"] == 0);
    CHECK(old["still_withdrawn"].size() >= 1);
    CHECK(has(graph.said("check"), "the graph is whole"));
}

TEST_CASE("rulings that differ stand side by side as a dispute, whichever way the graphs are joined", "[merge]") {
    const CommandGraph graph;
    graph.load("books.jsonl", books);
    graph.said("note shape:tern modelled-by person:ennersley --source source:book --at page=3");
    graph.shell("cp -r graph theirs");
    const std::string claim = "'shape:tern modelled-by person:ennersley'";
    graph.said("--author Ann settle " + claim + " --accept --reasons 'her hand' --on 2026-01-02");
    theirs(graph, "--author Bea settle " + claim + " --reject --reasons 'not her hand' --on 2026-01-03");
    graph.shell("cp -r graph ours-before");
    const json answer = merged(graph, "theirs");
    REQUIRE(answer["rulings"].size() == 1);
    CHECK(answer["conflicts"].size() == 1);
    const std::string told = graph.said("disputes --kind rulings");
    INFO(told);
    CHECK(has(told, "accepted by Ann, 2026-01-02: her hand"));
    CHECK(has(told, "rejected by Bea, 2026-01-03: not her hand"));
    CHECK(has(told, "these rulings disagree"));
    CHECK_FALSE(has(told, "earlier ruling"));
    CHECK_FALSE(has(told, "; settled"));
    CHECK(has(graph.said("disputes shape:tern"), "rulings;"));
    CHECK(has(graph.said("show shape:tern"), "these rulings disagree"));
    // The same, the other way round.
    theirs(graph, "merge ours-before");
    CHECK(theirs(graph, "disputes --kind rulings") == told);
    // A ruling made in knowledge of both ends it, and the earlier ones stay on record.
    const std::string settled = graph.said("--author Ann settle " + claim + " --reject --reasons 'Bea is right' --on 2026-01-05");
    CHECK(has(settled, "entry "));
    CHECK(has(graph.said("disputes --kind rulings"), "no disputes"));
    const std::string shown = graph.said("show shape:tern");
    CHECK(has(shown, "ruling: rejected by Ann, 2026-01-05"));
    CHECK(has(shown, "earlier ruling: accepted by Ann"));
    CHECK(has(shown, "earlier ruling: rejected by Bea"));
    CHECK(has(graph.said("--author Ann settle " + claim + " --reject --reasons 'Bea is right' --on 2026-01-05"), "nothing new"));
    // Taken back, the quarrel is there again.
    const std::size_t at = shown.find("ruling:", shown.find("2026-01-05"));
    REQUIRE(at != std::string::npos);
    graph.said("withdraw " + shown.substr(at, shown.find_first_of(" \n", at) - at) + " --reason hasty");
    CHECK(graph.said("disputes --kind rulings") == told);
}
