// The demo written to each format that is not RDF and read back: the same graph, or the loss that FORMATS.md names.
#include <catch2/catch.hpp>

#include <set>

#include "kg/model/record_json.h"
#include "kg/store/store.h"
#include "tests/app/command.h"

using namespace saggar;
using Catch::Contains;
using saggar::testing::CommandGraph;

namespace {

// The demo with a folder of photographs.
const CommandGraph& demo() {
    static const CommandGraph graph("history");
    static const bool loaded = [] {
        graph.shell("SOURCE_DATE_EPOCH=1767225600 SAGGAR='" SAGGAR_BIN_DIR "/saggar' sh '" SAGGAR_SOURCE_DIR
                    "/examples/skerrow/load.sh' \"$PWD/graph\"");
        graph.said("load '" SAGGAR_SOURCE_DIR "/examples/photographs'");
        return true;
    }();
    REQUIRE(loaded);
    return graph;
}

// What tables hold of the graph, after the losses they are documented to have.
std::set<std::string> in_tables(const std::filesystem::path& folder) {
    std::set<std::string> all;
    const Store store = Store::open(folder, Access::read);
    const auto graph = store.snapshot();
    graph->each_entity([&](EntityId, const Entity& one) {
        Entity kept = one;
        kept.identifiers.clear();
        kept.label.language.clear();
        all.insert(to_json_line(kept));
    });
    graph->each_source([&](EntityId, const Source& one) {
        Source kept = one;
        kept.more.clear();
        all.insert(to_json_line(kept));
    });
    graph->each_claim([&](const ClaimWithEvidence& one) {
        const Claim claim = graph->to_record(one.claim);
        bool spoken_of = false;
        for (const EvidenceRow& row : one.evidence) {
            spoken_of = true;
            all.insert(to_json_line(graph->to_record(row, one.claim.id)));
        }
        for (const ArgumentRow& row : graph->arguments_for(one.claim.ref)) {
            spoken_of = true;
            all.insert(to_json_line(graph->to_record(row)));
        }
        if (spoken_of) all.insert(to_json_line(claim));
    });
    graph->each_listing([&](const ListingRow& row) { all.insert(to_json_line(graph->to_record(row))); });
    return all;
}

std::string difference(const std::set<std::string>& a, const std::set<std::string>& b) {
    std::string out;
    for (const std::string& line : a)
        if (!b.count(line) && out.size() < 3000) out += "- " + line + "\n";
    for (const std::string& line : b)
        if (!a.count(line) && out.size() < 6000) out += "+ " + line + "\n";
    return out;
}

}  // namespace

TEST_CASE("the demo packed into a bag and read back is the same graph, pictures and all", "[round_trip]") {
    const CommandGraph& from = demo();
    CHECK_THAT(from.said("export --with-private --bag bag"), Contains("packed 5 files"));
    CHECK(from.shell("cd bag && sha512sum --quiet --strict -c manifest-sha512.txt tagmanifest-sha512.txt").empty());
    CHECK_THAT(from.shell("cat bag/data/index.html"),
               Contains("source:press-print-1958") && Contains("<img src=\"media/"));
    const CommandGraph to("start");
    const std::string said = to.said("load '" + from.path("bag").string() + "'");
    INFO(said);
    CHECK(to.lines() == from.lines());
    CHECK_THAT(to.said("check"), Contains("the graph is whole"));
    CHECK_THAT(to.said("load '" + from.path("bag").string() + "'"), Contains("loaded before"));
    // The same graph packed again is the same bag.
    to.said("export --with-private --bag bag");
    CHECK(to.shell("cat bag/manifest-sha512.txt") == from.shell("cat bag/manifest-sha512.txt"));
    CHECK_THAT(from.said("export --with-private --bag bag"), Contains("is not an empty folder"));
}

TEST_CASE("a bag without private records holds neither them nor their pictures", "[round_trip]") {
    const CommandGraph& from = demo();
    CHECK_THAT(from.said("export --bag public"), Contains("packed 4 files") && Contains("private records left out"));
    CHECK_THAT(from.shell("grep -c 'source:halyard-jug\"' public/data/graph.jsonl public/data/index.html"),
               Contains("graph.jsonl:0") && Contains("index.html:0"));
    const CommandGraph to("start");
    to.said("load '" + from.path("public").string() + "'");
    CHECK_THAT(to.said("check"), !Contains("no picture"));
}

TEST_CASE("a spoilt bag changes nothing", "[round_trip]") {
    const CommandGraph& from = demo();
    from.said("export --bag spoilt");
    from.shell("for p in spoilt/data/media/*.jpg; do printf x >> \"$p\"; done");
    const CommandGraph to("start");
    const std::string before = to.lines();
    CHECK_THAT(to.said("load '" + from.path("spoilt").string() + "'"),
               Contains("[bag-altered]") && Contains("nothing of this file was kept"));
    CHECK(to.lines() == before);
    CHECK(to.shell("ls graph/media 2>/dev/null").empty());
}

TEST_CASE("the demo as JSON Lines is the same graph", "[round_trip]") {
    const CommandGraph& from = demo();
    from.said("export --with-private -o demo.jsonl");
    const CommandGraph to("start");
    to.said("load '" + from.path("demo.jsonl").string() + "'");
    CHECK(to.lines() == from.lines());
    // JSON Lines carry no pictures, and check says so.
    CHECK_THAT(to.said("check"), Contains("no picture: source:press-print-1958") && Contains("next: "));
}

TEST_CASE("the demo as tables keeps all but what FORMATS.md names", "[round_trip]") {
    const CommandGraph& from = demo();
    const std::string said = from.said("export --with-private --format tables -o tables");
    INFO(said);
    CHECK_THAT(said, Contains("wrote three tables"));
    const CommandGraph to("start");
    const std::string loaded =
        to.said("load '" + from.path("tables").string() + "/entities.csv' '" + from.path("tables").string() +
                "/sources.csv' '" + from.path("tables").string() + "/claims.csv'");
    INFO(loaded);
    const auto a = in_tables(from.path("graph"));
    const auto b = in_tables(to.path("graph"));
    CHECK(a.size() > 5000);
    CHECK(difference(a, b).empty());
    INFO(difference(a, b));
    CHECK(a == b);
}

TEST_CASE("the demo's sources as bibliographies keep the fields that bibliographies have", "[round_trip]") {
    const CommandGraph& from = demo();
    for (const std::string format : {"csl-json", "bibtex", "ris"}) {
        from.said("export --with-private --format " + format + " -o bibliography." + format);
        const CommandGraph to("start");
        const std::string said =
            to.said("load --as " + format + " '" + from.path("bibliography." + format).string() + "'");
        INFO(said);
        const auto sources = [&](const CommandGraph& graph) {
            std::set<std::string> all;
            const Store store = Store::open(graph.path("graph"), Access::read);
            store.snapshot()->each_source([&](EntityId, const Source& one) {
                Source kept = one;
                if (format == "ris")  // values of RIS are one line
                    for (auto& [name, text] : kept.more)
                        for (char& sign : text)
                            if (sign == '\n') sign = ' ';
                all.insert(to_json_line(kept));
            });
            return all;
        };
        INFO(difference(sources(from), sources(to)));
        CHECK(sources(from) == sources(to));
    }
}
