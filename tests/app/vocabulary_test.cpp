// Another vocabulary for a graph that holds records already, through the command line.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/app/command.h"

using saggar::testing::CommandGraph;
using saggar::testing::count_of;

namespace {

const char* const claims_csv =
    "subject,relation,object,source\n"
    "piece:1,instance-of,item:jug,source:a\n"
    "item:jug,of-shape,shape:tern,source:a\n"
    "shape:tern,comprises,article:cup,source:a\n";

// The vocabulary for tableware with a kind and a relation more, and one rule exchanged for another.
std::string second_vocabulary(const CommandGraph& graph) {
    auto document = nlohmann::json::parse(graph.said("vocabulary show"));
    document["version"] = "2";
    document["kinds"]["mould"] = {{"label", "mould"}};
    document["relations"]["cast-in"] = {{"from", {"piece"}}, {"to", {"mould"}}, {"inverse", "cast"}, {"label", "was cast in"}};
    auto& rules = document["rules"];
    rules.erase(0);  // example-of-shape
    rules.push_back({{"name", "may-be"},
                     {"when", {{"?item", "of-shape", "?shape"}, {"?shape", "comprises", "?article"}}},
                     {"then", {"?item", "article-of", "?article"}},
                     {"strength", .3},
                     {"reason", "a guess"}});
    return document.dump(1);
}

// What saggar prints for another graph in the same folder.
std::string said_of(const std::string& other, const CommandGraph& graph, const std::string& words) {
    return graph.shell("SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph " + other + " " + words);
}

void start_again(const CommandGraph& graph, const std::string& other) {
    graph.shell("rm -rf " + other);
    said_of(other, graph, "start");
}

// A graph with the claims, and the second vocabulary beside it as v2.json.
void fill(const CommandGraph& graph) {
    graph.load("claims.csv", claims_csv);
    graph.write("v1.json", graph.said("vocabulary show"));
    graph.write("v2.json", second_vocabulary(graph));
}

}  // namespace

TEST_CASE("a graph takes another vocabulary as a change of its history", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    CHECK(graph.said("vocabulary load v1.json") == "the graph has this vocabulary already\n");
    const std::string before = graph.lines();
    const char* const changes =
        "    new kinds: mould\n    new relations: cast-in\n"
        "    arguments its rules draw from claims on file: 2\n"
        "    arguments its rules draw no more, withdrawn: 1\n";
    CHECK(graph.said("vocabulary load v2.json --dry-run") == std::string("would take the vocabulary tableware, version 2\n") + changes);
    CHECK(graph.lines() == before);
    CHECK(graph.said("vocabulary load v2.json") == std::string("entry 3: from now on the vocabulary tableware, version 2\n") + changes);
    CHECK(graph.said("vocabulary load v2.json") == "the graph has this vocabulary already\n");
    CHECK(graph.said("history").find("vocabulary  v2.json") != std::string::npos);

    // The rule that was exchanged supports nothing any more, the new one does; as of the entry before it is as it was.
    CHECK(graph.said("weigh 'item:jug article-of article:cup' --json").find("\"support\": 0.0,") == std::string::npos);
    CHECK(graph.said("weigh 'piece:1 instance-of shape:tern' --json").find("\"support\": 0.0,") != std::string::npos);
    CHECK(graph.said("weigh 'piece:1 instance-of shape:tern' --json --as-of 2").find("\"support\": 0.0,") == std::string::npos);
    CHECK(graph.said("vocabulary show --as-of 2").find("cast-in") == std::string::npos);
    CHECK(graph.load("d.csv", "subject,relation,object,source\npiece:1,cast-in,mould:m,source:a\n") ==
          "d.csv: entry 4: 1 thing, 1 claim, 1 reading\n");
    CHECK(graph.said("check").find("damage") == std::string::npos);
}

TEST_CASE("what a vocabulary does not know is told, and nothing is written", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    auto document = nlohmann::json::parse(graph.said("vocabulary show"));
    document["rules"] = nlohmann::json::array();
    document["time"] = nlohmann::json::object();
    document.erase("headings");
    document["relations"].erase("instance-of");
    document["relations"]["of-shape"]["from"] = {"piece"};
    document["relations"]["comprises"]["to"] = {"item"};
    graph.write("bad.json", document.dump(1));
    const std::string before = graph.lines();
    CHECK(graph.said("vocabulary load bad.json") ==
          "bad.json: error: \"comprises\" leads to things of the kind \"article\": 1 record in the graph\n"
          "    shape:tern comprises article:cup\n"
          "    next: there \"comprises\" takes: item; add what is missing to its \"to\"\n"
          "bad.json: error: \"of-shape\" is said of things of the kind \"item\": 1 record in the graph\n"
          "    item:jug of-shape shape:tern\n"
          "    next: there \"of-shape\" is said of: piece; add the kind to its \"from\"\n"
          "bad.json: error: unknown relation \"instance-of\": 2 records in the graph\n"
          "    piece:1 instance-of item:jug\n"
          "    piece:1 instance-of shape:tern\n"
          "    next: add the relation to the vocabulary, or withdraw these records\n"
          "bad.json: the graph does not fit this vocabulary; nothing was changed\n");
    CHECK(graph.lines() == before);
    CHECK(nlohmann::json::parse(graph.said("vocabulary load bad.json --json 2>/dev/null"))["misfits"].size() == 3);
    // Once what does not fit has been taken back, it may go: except kinds, since things stay.
    graph.write("v2.json", second_vocabulary(graph));
    graph.said("vocabulary load v2.json");
    graph.load("d.csv", "subject,relation,object,source\npiece:1,cast-in,mould:m,source:a\n");
    graph.said("withdraw 'piece:1 cast-in mould:m' --reason misread");
    const std::string kind = graph.said("vocabulary load v1.json");
    CHECK(kind.find("unknown kind \"mould\"") != std::string::npos);
    CHECK(kind.find("cast-in") == std::string::npos);
}

TEST_CASE("a relation may not come to read both ways, nor backwards, under claims that stand", "[vocabulary]") {
    const CommandGraph graph;
    graph.load("c.csv", "subject,relation,object,source\nshape:b,replaced-by,shape:a,source:a\nline:n,built-on,shape:b,source:a\n");
    auto document = nlohmann::json::parse(graph.said("vocabulary show"));
    document["time"] = nlohmann::json::object();
    document["relations"]["replaced-by"].erase("inverse");
    document["relations"]["replaced-by"]["symmetric"] = true;
    document["relations"]["carries"] = {{"from", {"shape"}}, {"to", {"line"}}, {"inverse", "built-on"}, {"label", "carries"}};
    document["relations"].erase("built-on");
    graph.write("turned.json", document.dump(1));
    const std::string said = graph.said("vocabulary load turned.json");
    CHECK(said.find("\"replaced-by\" would read the same both ways, and stands the other way round in claims") != std::string::npos);
    CHECK(said.find("\"built-on\" is there only \"carries\" read backwards: 1 record in the graph\n    line:n built-on shape:b\n"
                    "    next: keep \"built-on\" as the relation and \"carries\" as its inverse\n") != std::string::npos);
}

TEST_CASE("records that do not fit a vocabulary keep their privacy", "[vocabulary]") {
    const CommandGraph graph;
    graph.load("c.csv", "subject,relation,object,source,private\nshape:b,designed-by,person:hidden,source:a,yes\n");
    auto document = nlohmann::json::parse(graph.said("vocabulary show"));
    document["relations"].erase("designed-by");
    graph.write("less.json", document.dump(1));
    CHECK(graph.said("vocabulary load less.json").find("hidden") == std::string::npos);
    CHECK(graph.said("vocabulary load less.json").find("unknown relation \"designed-by\"") != std::string::npos);
    CHECK(graph.said("vocabulary load less.json --with-private").find("shape:b designed-by person:hidden") != std::string::npos);
}

TEST_CASE("an unsound vocabulary is refused with its place", "[vocabulary]") {
    const CommandGraph graph;
    graph.write("bad.json", "{\"vocabulary\": \"x\", \"version\": \"1\", \"kinds\": {}, \"relation\": {}}");
    const std::string said = graph.said("vocabulary load bad.json");
    CHECK(said.find("bad.json") != std::string::npos);
    CHECK(said.find("did you mean \"relations\"") != std::string::npos);
    CHECK(graph.said("history --json").find("vocabulary") == std::string::npos);
    CHECK(graph.said("vocabulary load none.json").find("cannot read none.json") != std::string::npos);
    CHECK(graph.said("vocabulary mend").find("say `saggar vocabulary show`") != std::string::npos);
}

TEST_CASE("what rules drew comes back with its rule, unless a person withdrew it", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    graph.said("vocabulary load v2.json");
    CHECK(graph.said("vocabulary load v1.json").find("draw from claims on file: 1") != std::string::npos);
    CHECK(graph.said("weigh 'piece:1 instance-of shape:tern' --json").find("\"support\": 0.0,") == std::string::npos);
    // The argument of the rule, by hand.
    const std::string lines = graph.lines();
    const std::size_t rule = lines.find("\"rule\":\"example-of-shape\"");
    REQUIRE(rule != std::string::npos);
    const std::size_t line = lines.rfind('\n', rule) + 1;
    const auto argument = nlohmann::json::parse(lines.substr(line, lines.find('\n', line) - line));
    const std::string id = argument["argument"]["id"];
    CHECK(graph.said("withdraw " + id + " --reason 'a marriage of two pieces'").find("1 withdrawn") != std::string::npos);
    CHECK(graph.said("vocabulary load v2.json").find("from now on") != std::string::npos);
    CHECK(graph.said("vocabulary load v1.json").find("from now on") != std::string::npos);
    CHECK(graph.said("weigh 'piece:1 instance-of shape:tern' --json").find("\"support\": 0.0,") != std::string::npos);
}

TEST_CASE("a history with several vocabularies leaves and comes back whole", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    graph.said("vocabulary load v2.json");
    graph.load("d.csv", "subject,relation,object,source\npiece:1,cast-in,mould:m,source:a\n");
    for (const std::string format : {"jsonl", "trig", "nquads"}) {
        INFO(format);
        graph.said("export --format " + format + " -o all." + (format == "nquads" ? "nq" : format));
        start_again(graph, "other");
        CHECK(said_of("other", graph, "load all." + (format == "nquads" ? std::string("nq") : format)).find("error") == std::string::npos);
        CHECK(said_of("other", graph, "export --with-private 2>/dev/null | sort") == graph.said("export --with-private 2>/dev/null | sort"));
    }
    graph.said("export --bag bag");
    start_again(graph, "other");
    said_of("other", graph, "load bag");
    CHECK(said_of("other", graph, "export --with-private 2>/dev/null | sort") == graph.said("export --with-private 2>/dev/null | sort"));

    // A record under a vocabulary that its entry does not have yet is still refused.
    graph.shell("'" SAGGAR_BIN_DIR "/saggar' --graph graph export | sed 's/\"cast-in\"/\"cast-into\"/' > altered.jsonl");
    start_again(graph, "other");
    CHECK(said_of("other", graph, "load altered.jsonl").find("nothing of this file was kept") != std::string::npos);
}

TEST_CASE("a graph merges another that changed its vocabulary", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    graph.said("vocabulary load v2.json");
    graph.load("d.csv", "subject,relation,object,source\npiece:1,cast-in,mould:m,source:a\n");
    start_again(graph, "ours");
    CHECK(said_of("ours", graph, "merge graph").find("unknown relation \"cast-in\"") != std::string::npos);
    // With the vocabulary here too it goes in, and what was withdrawn there is withdrawn here.
    said_of("ours", graph, "vocabulary load v2.json");
    CHECK(said_of("ours", graph, "merge graph").find("error") == std::string::npos);
    CHECK(said_of("ours", graph, "weigh 'piece:1 instance-of shape:tern' --json").find("\"support\": 0.0,") != std::string::npos);
    CHECK(nlohmann::json::parse(said_of("ours", graph, "weigh 'item:jug article-of article:cup' --json"))["support"] ==
          nlohmann::json::parse(graph.said("weigh 'item:jug article-of article:cup' --json"))["support"]);
    CHECK(said_of("ours", graph, "vocabulary load v2.json") == "the graph has this vocabulary already\n");
}

TEST_CASE("taking back an entry that changed the vocabulary says that the vocabulary stays", "[vocabulary]") {
    const CommandGraph graph;
    fill(graph);
    graph.said("vocabulary load v2.json");
    const std::string said = graph.said("withdraw --entry 3 --reason oops");
    CHECK(said.find("the vocabulary they brought still holds") != std::string::npos);
    CHECK(said.find("saggar vocabulary show --as-of 2 > earlier.json") != std::string::npos);
    graph.said("vocabulary show --as-of 2 > earlier.json");
    CHECK(graph.said("vocabulary load earlier.json").find("entry 5: from now on the vocabulary tableware, version 1") == 0);
}
