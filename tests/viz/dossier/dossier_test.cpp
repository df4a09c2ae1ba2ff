#include "viz/dossier/dossier.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "../small_graph.h"
#include "importers/csl_write.h"
#include "kg/weigh/weigher.h"

using namespace saggar;
using namespace saggar::viz;
using Catch::Matchers::Contains;
using saggar::testing::SmallGraph;
using saggar::testing::TemporaryFolder;

namespace {

Dossier dossier_of(const SmallGraph& graph, const char* key, const DossierOptions& options = {}) {
    Weigher weigher(graph.snapshot());
    return gather_dossier(graph.snapshot(), weigher, graph.id(key), options);
}

// As the command writes them.
std::string sources_of(const Dossier& dossier) {
    std::ostringstream out;
    CslWriter writer(out);
    for (const auto& source : dossier_records(dossier)) writer.put(source);
    writer.finish();
    return out.str();
}

std::map<std::string, std::string> files_of(const Dossier& dossier) {
    return dossier_files(dossier, sources_of(dossier));
}

void write_files(const std::map<std::string, std::string>& files, const std::filesystem::path& folder) {
    for (const auto& [path, bytes] : files) {
        std::filesystem::create_directories((folder / path).parent_path());
        std::ofstream(folder / path, std::ios::binary) << bytes;
    }
}

// Status and output of a command.
std::pair<int, std::string> run(const std::string& command) {
    std::string out;
    std::FILE* pipe = popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    char buffer[4096];
    while (const auto n = std::fread(buffer, 1, sizeof buffer, pipe)) out.append(buffer, n);
    return {pclose(pipe), out};
}

bool installed(const std::string& program) {
    if (std::filesystem::exists("/usr/bin/" + program)) return true;
    WARN(program << " is not installed: not checked with it");
    return false;
}

}  // namespace

TEST_CASE("a dossier groups claims by question, each with weight and notes") {
    const SmallGraph graph;
    const auto d = dossier_of(graph, "shape:pinnace");
    CHECK(d.title == "Pinnace");
    CHECK(d.kind == "shape");
    REQUIRE(d.sections.size() == 2);
    CHECK(d.sections[0].heading == "Who");
    REQUIRE(d.sections[0].sentences.size() == 2);
    const auto& first = d.sections[0].sentences[0];
    CHECK(first.text == "Pinnace was modelled by Maud Ennersley.");
    CHECK(first.weight == "no single figure: the sources contradict each other");
    CHECK(first.disputed);
    CHECK(first.cited_for == std::vector<int>{1});
    CHECK(first.ruling == "accepted by H. Quance, 3 May 2020: The journal is her own.");
    REQUIRE(d.disputes.size() == 1);
    CHECK(d.disputes[0].views.size() == 2);
    CHECK_THAT(to_plain(d.notes[0]), Contains("working journal no. 5"));
    bool found = false;
    for (const auto& line : d.unknown) found = found || line == "Pinnace was introduced in \u2026";
    CHECK(found);
    for (const auto& line : d.unknown) CHECK(line != "Pinnace was modelled by \u2026");
    CHECK(d.sources.size() == 3);
    CHECK_THAT(dossier_of(graph, "shape:lantern").sections[0].sentences[0].weight, Contains(", 0."));
}

TEST_CASE("private records stay out unless asked for, and are counted") {
    const SmallGraph graph;
    for (const auto* key : {"shape:lantern", "person:maud-ennersley", "line:northern"}) {
        for (const auto& [path, bytes] : files_of(dossier_of(graph, key))) {
            INFO(path);
            CHECK(bytes.find("PLANTED") == std::string::npos);
        }
    }
    CHECK(dossier_of(graph, "shape:lantern").left_out == "1 private record not shown.");
    DossierOptions all;
    all.with_private = true;
    CHECK_THAT(dossier_page(dossier_of(graph, "shape:lantern", all)), Contains("PLANTED"));
}

TEST_CASE("cautions stand where a hazardous glaze or a piece is shown") {
    const SmallGraph graph;
    CHECK_THAT(dossier_page(dossier_of(graph, "shape:lantern")), Contains("lead, cadmium or uranium"));
    CHECK_THAT(dossier_page(dossier_of(graph, "shape:fathom")), Contains("appraisal"));
}

TEST_CASE("the page is valid HTML, has no script and asks for nothing") {
    const SmallGraph graph;
    const auto page = dossier_page(dossier_of(graph, "shape:lantern"));
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("src=") == std::string::npos);
    for (std::size_t at = page.find("href=\""); at != std::string::npos; at = page.find("href=\"", at + 1)) {
        const auto target = page.substr(at + 6, 5);
        CHECK((target[0] == '#' || target == "data:"));
    }
    if (!installed("tidy")) return;
    const TemporaryFolder folder;
    std::ofstream(folder.path() / "index.html") << page;
    const auto [status, output] = run("tidy -q -e --drop-empty-elements no " + (folder.path() / "index.html").string());
    INFO(output);
    CHECK(status == 0);
}

TEST_CASE("every link of the page leads somewhere and every id is there once") {
    const SmallGraph graph;
    const auto page = dossier_page(dossier_of(graph, "shape:pinnace"));
    std::set<std::string> ids;
    for (std::size_t at = page.find(" id=\""); at != std::string::npos; at = page.find(" id=\"", at + 1)) {
        const auto id = page.substr(at + 5, page.find('"', at + 5) - at - 5);
        INFO(id);
        CHECK(ids.insert(id).second);
    }
    std::size_t links = 0;
    for (std::size_t at = page.find("href=\"#"); at != std::string::npos; at = page.find("href=\"#", at + 1), ++links) {
        const auto target = page.substr(at + 7, page.find('"', at + 7) - at - 7);
        INFO(target);
        CHECK(ids.count(target) == 1);
    }
    CHECK(links > 8);
}

TEST_CASE("pandoc makes a word-processor file and a page of it with every citation resolved") {
    if (!installed("pandoc")) return;
    const SmallGraph graph;
    const TemporaryFolder folder;
    const auto d = dossier_of(graph, "shape:pinnace");
    write_files(files_of(d), folder.path());
    const auto at = "cd " + folder.path().string() + " && ";
    const auto [docx_status, docx_output] = run(at + "pandoc dossier.md --citeproc --fail-if-warnings -o dossier.docx");
    INFO(docx_output);
    CHECK(docx_status == 0);
    CHECK(std::filesystem::file_size(folder.path() / "dossier.docx") > 5000);
    const auto [text_status, text] = run(at + "pandoc dossier.docx -t plain --wrap=none");
    REQUIRE(text_status == 0);
    CHECK_THAT(text, Contains("Pinnace was modelled by Maud Ennersley."));
    CHECK_THAT(text, Contains("Maud Ennersley, working journal no. 5"));
    const auto [html_status, html] = run(at + "pandoc dossier.md --citeproc --fail-if-warnings -t html");
    CHECK(html_status == 0);
    for (const auto& source : d.sources)
        CHECK_THAT(html, Contains("id=\"ref-" + citation_key(source.source.key) + "\""));
    CHECK(html.find("???") == std::string::npos);
}

// CSL-JSON, schemas/input/csl-data.json: an array of items, each with "id" and "type"; dates as date-parts or literal.
TEST_CASE("sources are CSL-JSON") {
    const SmallGraph graph;
    const auto items = nlohmann::json::parse(sources_of(dossier_of(graph, "line:northern")));
    REQUIRE(items.is_array());
    REQUIRE(items.size() == 3);
    for (const auto& item : items) {
        CHECK(item.at("id").is_string());
        CHECK(item.at("type").is_string());
    }
    const auto memo =
        *std::find_if(items.begin(), items.end(), [](const auto& item) { return item["id"] == "memo-1"; });
    CHECK(memo["issued"]["date-parts"][0] == nlohmann::json({1937, 11, 2}));
    CHECK(memo["archive_location"] == "box 9, folder 2");
    CHECK(memo["author"][0]["family"] == "Wrenholt");
}

TEST_CASE("hostile names come out of every file as text") {
    Dossier d;
    d.key = "shape:x";
    d.title = "<script>alert(1)</script> & \"x\" \xFF";
    d.kind = "<b>";
    d.also = "--- \n# heading [x](javascript:alert(1))";
    DossierSentence hostile;
    hostile.text = hostile.item = hostile.group = d.title;
    hostile.key = "\"><script>";
    hostile.cited_for = {1};
    hostile.ruling = "<i>";
    d.sections = {{"Who", std::vector<DossierSentence>(kGroupFrom, hostile)}};
    d.notes = {CitedText("<script>alert(2)</script> [^1]: *x*")};
    d.unknown = {"<img src=x onerror=alert(1)>"};
    const auto page = dossier_page(d);
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("<img") == std::string::npos);
    CHECK_THAT(page, Contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    const auto text = dossier_text(d);
    CHECK_THAT(text, Contains("\\<script\\>alert(1)"));
    CHECK_THAT(text, Contains("\\[x\\](javascript"));
    CHECK(text.find("\n# heading") == std::string::npos);
}
