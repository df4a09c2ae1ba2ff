// What is marked private gets out of no verb unless it is asked for: marks are planted in every field of private records, and
// every output of every verb, every export, picture, dossier, merge and error message is searched for them.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/kg/store/temporary_folder.h"

namespace fs = std::filesystem;
using saggar::testing::TemporaryFolder;

namespace {

std::string output_of(const std::string& command) {
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe);
    std::string text;
    char buffer[4096];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe)) text.append(buffer, got);
    ::pclose(pipe);
    return text;
}

std::string small_letters(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

bool tells(const std::string& text) { return small_letters(text).find("zqx") != std::string::npos; }

std::string content(const fs::path& file) {
    std::ostringstream text;
    text << std::ifstream(file, std::ios::binary).rdbuf();
    return text.str();
}

// Every mark begins with "zqx".
constexpr const char* records = R"({"entity":{"also":[{"text":"Zqxalso"}],"identifiers":["https://example.org/zqxid"],"image":"zqximage.jpg","key":"person:zqxowner","label":{"text":"Zqxlabel Owner"},"private":true,"remark":"zqxremark"}}
{"source":{"author":"Zqxauthor","box":"zqxbox","key":"source:zqxsource","private":true,"rights":"zqxrights","title":"Zqxtitle","type":"letter","url":"https://example.org/zqxurl"}}
{"source":{"copied_from":[{"chance":0.5,"fidelity":1,"of":"source:zqxsource"}],"family":"source:zqxsource","family_kind":"circle","key":"source:open-letter","title":"Open letter","type":"letter"}}
{"entity":{"key":"piece:jug","label":{"text":"The jug"}}}
{"entity":{"key":"person:maud-e","label":{"text":"Maud E."}}}
{"entity":{"key":"shape:lantern","label":{"text":"Lantern"}}}
{"source":{"issued":"1950","key":"source:open-book","title":"Open book","type":"book"}}
)";

const std::vector<std::string> notes = {
    "note shape:lantern modelled-by person:ennersley --source source:open-book --at page=2 --quote 'open words'",
    "note shape:lantern modelled-by person:wrenholt --source source:open-letter --at page=3",
    "note piece:jug instance-of shape:lantern --source source:open-book --at page=4",
    "note piece:jug held-by person:zqxowner --source source:open-book --at page=5 --quote zqxquoteheld",
    "note shape:lantern modelled-by person:ennersley --source source:open-letter --at zqxat --quote zqxquote --remark zqxnote --private",
    "note shape:lantern modelled-by person:wrenholt --stance against --source source:zqxsource --at page=9 --quote zqxquotesource",
    "note shape:lantern introduced-in 1936 --source source:zqxsource --quote zqxquoteonly --at page=1",
    "note shape:lantern introduced-in 1937 --source source:open-book --at page=7",
    "note shape:lantern comprises article:teapot --source source:open-book --at page=8",
    "note shape:lantern comprises --stance lists-all --source source:open-book --at zqxlistat --quote zqxlist --completeness 0.9 --private",
    "note shape:lantern comprises article:ewer --source source:open-letter --at page=6",
    "note shape:lantern comprises article:jug --stance argued --premises 'shape:lantern comprises article:teapot' --strength 0.5 "
    "--reason zqxargument --private",
    "note shape:lantern dropped-in 1940 --source source:open-book --quote zqxdropped --private",
    "settle 'shape:lantern modelled-by person:ennersley' --accept --reasons zqxruling --private",
    "settle 'shape:lantern dropped-in 1940' --leave-open --reasons zqxleaveopen --private",
    "same person:zqxowner person:wrenholt --source source:open-book --quote zqxsamequote --reasons zqxsame",
    "same person:ennersley person:maud-e --source source:open-book --quote zqxsamequote --reasons zqxsameprivate --private",
    "withdraw 'shape:lantern dropped-in 1940' --reason zqxwithdraw",
};

std::vector<std::string> questions() {
    std::vector<std::string> all = {
        "disputes", "history", "changes --since 1", "find lantern", "find words", "same --suggest", "check", "show vocabulary",
        "profile show", "export", "export --since 3", "export --format csl-json", "export --format bibtex", "export --format ris",
        "export --format trig", "export --format nquads", "draw copying --as dot", "draw copying source:open-letter --as svg",
        "draw runs --as svg", "draw runs --pieces --as dot", "draw grid --as svg", "draw grid --as table", "draw date shape:lantern --as svg",
        "draw descent --as dot", "compare shape:lantern shape:lantern --time",
        // Mistakes.
        "show person:z", "show source:z", "trace person:z", "weigh 'shape:lantern modelled-by person:z'", "cite source:z", "draw around person:z",
        "same person:z person:ennersley --reasons x", "show claim:zzzz", "note shape:lantern modelled-by person:z --source source:z",
        "note shape:lantern modelled-byy person:z --source source:open-book", "withdraw claim:zzzz --reason x"};
    for (const std::string key : {"piece:jug", "shape:lantern", "person:wrenholt", "person:ennersley", "source:open-letter", "source:open-book",
                                  "article:teapot"}) {
        for (const char* verb : {"show ", "disputes ", "date ", "cite ", "history ", "trace "}) all.push_back(verb + key);
        all.push_back("trace " + key + " --to-kind person");
        all.push_back("draw around " + key + " --depth 2 --as dot");
        all.push_back("draw around " + key + " --depth 2 --as svg");
        all.push_back("draw trace " + key + " --to-kind person --as dot");
    }
    for (const std::string claim : {"shape:lantern modelled-by person:ennersley", "shape:lantern modelled-by person:wrenholt",
                                    "shape:lantern introduced-in 1936", "shape:lantern introduced-in 1937", "shape:lantern comprises article:ewer",
                                    "shape:lantern comprises article:jug"}) {
        for (const char* verb : {"weigh", "cite", "draw weigh --whole --as dot", "draw weigh --whole --as svg", "draw dispute --as dot",
                                 "draw dispute --as svg"})
            all.push_back(std::string(verb) + " '" + claim + "'");
    }
    return all;
}

}  // namespace

TEST_CASE("nothing private gets out of any verb unless it is asked for", "[private]") {
    TemporaryFolder folder;
    const fs::path graph = folder.path() / "g", merged = folder.path() / "merged";
    const std::string saggar = "SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph '" + graph.string() + "' ";
    output_of(saggar + "start --author Ann");
    std::ofstream(folder.path() / "records.jsonl") << records;
    output_of(saggar + "load '" + (folder.path() / "records.jsonl").string() + "'");
    for (const std::string& note : notes) {
        INFO(note);
        CHECK(output_of(saggar + note).find("entry ") == 0);
    }
    // They are there for who asks.
    CHECK(tells(output_of(saggar + "export --with-private")));
    CHECK(tells(output_of(saggar + "show piece:jug --with-private")));
    for (const std::string& question : questions()) {
        INFO(question);
        CHECK_FALSE(tells(output_of(saggar + question)));
        CHECK_FALSE(tells(output_of(saggar + "--json " + question)));
    }
    for (const char* key : {"piece:jug", "shape:lantern", "person:wrenholt"}) {
        const fs::path dossier = folder.path() / "dossier";
        CHECK_FALSE(tells(output_of(saggar + "dossier " + key + " -o '" + dossier.string() + "'")));
        for (const auto& file : fs::recursive_directory_iterator(dossier)) {
            INFO(key << " " << file.path().filename().string());
            // Painted pictures are bytes that may spell anything; their drawings are searched beside them.
            if (file.is_regular_file() && file.path().extension() != ".png") CHECK_FALSE(tells(content(file.path())));
        }
        fs::remove_all(dossier);
    }
    const std::string other = "'" SAGGAR_BIN_DIR "/saggar' --graph '" + merged.string() + "' ";
    output_of(other + "start --author Bea");
    CHECK_FALSE(tells(output_of(other + "merge '" + graph.string() + "'")));
    CHECK_FALSE(tells(output_of(other + "export --with-private")));  // it never came here
}
