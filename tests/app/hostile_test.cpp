// Hostile names through every format that leaves the program: they come out as text. What runs in a browser is tested in
// tests/browser; SVG and DOT in tests/viz.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/app/command.h"

using saggar::testing::CommandGraph;
using saggar::testing::count_of;
using Catch::Matchers::Contains;

namespace {

const char* const kNames[] = {
    "<script>alert(1)</script>", "name \\N graph \\G left \\l", "&#92;N &lt;b&gt;", "شكل (Lantern) 1934",
    "<b>Lantern</b>",            "teapot \U0001FAD6",           "{a} % $ _ ^ @misc{x",
};

const CommandGraph& hostile() {
    static const CommandGraph* graph = [] {
        auto* made = new CommandGraph;
        std::string entities = "key,label\nshape:hub,<script>alert(0)</script>\n", sources = "key,title,type,author\n",
                    claims = "subject,relation,object,stance,source,at,quote\n";
        int i = 0;
        for (const std::string name : kNames) {
            const auto n = std::to_string(i++), cell = "\"" + name + "\"";
            entities += "feature:f" + n + "," + cell + "\n";
            sources += "source:s" + n + "," + cell + ",memo," + cell + "\n";
            claims += "shape:hub,has-feature,feature:f" + n + ",for,source:s" + n + "," + cell + "," + cell + "\n";
        }
        made->load("entities.csv", entities);
        made->load("sources.csv", sources);
        made->load("claims.csv", claims);
        return made;
    }();
    return *graph;
}

}  // namespace

TEST_CASE("hostile names come out of text, CSL-JSON, BibTeX and RIS as text", "[hostile]") {
    const auto& graph = hostile();
    const auto shown = graph.said("show shape:hub");
    const auto ris = graph.said("export --format ris");
    const auto csl = nlohmann::json::parse(graph.said("export --format csl-json"));
    CHECK(csl.size() == std::size(kNames));
    for (std::size_t i = 0; i < std::size(kNames); ++i) {
        CHECK_THAT(shown, Contains(kNames[i]));
        CHECK_THAT(ris, Contains("TI  - " + std::string(kNames[i])));
        CHECK(csl.at(i).at("title") == kNames[i]);
    }
    CHECK(count_of(graph.said("export --format bibtex"), "\n@") + 1 >= std::size(kNames));
    if (graph.shell("command -v pandoc").empty()) return;
    // Another reader of BibTeX: as many entries as there are sources.
    graph.said("export --format bibtex > all.bib");
    CHECK(nlohmann::json::parse(graph.shell("pandoc -f bibtex -t csljson all.bib")).size() == std::size(kNames));
}

TEST_CASE("hostile names come out of PDF, PNG and a dossier's page and Markdown as text", "[hostile]") {
    const auto& graph = hostile();
    CHECK_THAT(graph.said("draw around shape:hub -o p.png; head -c 4 p.png"), Contains("\x89PNG"));
    CHECK_THAT(graph.said("draw around shape:hub -o p.pdf"), Contains("drawn"));
    if (!graph.shell("command -v pdftotext").empty())
        CHECK_THAT(graph.shell("pdftotext p.pdf - | tr -d '\\n'"), Contains("alert(1)</script>"));
    graph.said("dossier shape:hub -o dossier");
    const auto page = graph.shell("cat dossier/index.html");
    CHECK_THAT(page, Contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    CHECK(count_of(page, "<script") == 0);
    CHECK(count_of(page, "<b>Lantern") == 0);
    if (graph.shell("command -v pandoc").empty()) return;
    const auto made = graph.shell("cd dossier && pandoc dossier.md --citeproc -t html");
    CHECK_THAT(made, Contains("alert(1)"));
    CHECK(count_of(made, "<script>alert") == 0);
    CHECK(count_of(made, "<b>Lantern") == 0);
}
