// What is marked private gets out of no verb unless it is asked for: marks are planted in every field of private records, and
// every output of every verb, every export, picture, dossier, merge and error message is searched for them.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/app/command.h"

namespace fs = std::filesystem;
using saggar::testing::CommandGraph;

namespace {

std::string small_letters(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

bool tells(const std::string& text) { return small_letters(text).find("zqx") != std::string::npos; }

// Every mark begins with "zqx".
constexpr const char* records = R"({"entity":{"also":[{"text":"Zqxalso"}],"identifiers":["https://example.org/zqxid"],"image":"zqximage.jpg","key":"person:zqxowner","label":{"text":"Zqxlabel Owner"},"private":true,"remark":"zqxremark"}}
{"source":{"author":"Zqxauthor","box":"zqxbox","key":"source:zqxsource","private":true,"rights":"zqxrights","title":"Zqxtitle","type":"letter","url":"https://example.org/zqxurl"}}
{"source":{"copied_from":[{"chance":0.5,"fidelity":1,"of":"source:zqxsource"}],"family":"source:zqxsource","family_kind":"circle","key":"source:open-letter","title":"Open letter","type":"letter"}}
{"entity":{"key":"piece:jug","label":{"text":"The jug"}}}
{"entity":{"key":"person:maud-e","label":{"text":"Maud E."}}}
{"entity":{"key":"shape:lantern","label":{"text":"Lantern"}}}
{"source":{"issued":"1950","key":"source:open-book","title":"Open book","type":"book"}}
{"source":{"key":"source:zqxphotograph","private":true,"title":"Zqxphototitle","type":"photograph","more":{"checksum":"sha-512/256:00000000000000000000000000000000000000000000000000000000000000aa"}}}
{"source":{"copied_from":[{"of":"source:zqxmiddle"}],"key":"source:open-copy","title":"Open copy","type":"book"}}
{"source":{"copied_from":[{"of":"source:open-root"},{"of":"source:zqxbareroot"}],"family":"source:zqxbarefamily","key":"source:zqxmiddle","private":true,"title":"Zqxmiddle","type":"letter"}}
{"source":{"key":"source:open-root","title":"Open root","type":"book"}}
{"entity":{"key":"person:zqxlate","label":{"text":"Zqxlate"},"remark":"zqxlateremark"}}
)";

// Loaded later: a mark holds for what was before it, too.
constexpr const char* later = R"({"entity":{"key":"person:zqxlate","private":true}}
)";
// Says that an open source was copied from another: with what is private here that would go round in a circle.
constexpr const char* circle = R"({"source":{"copied_from":[{"of":"source:open-copy"}],"key":"source:open-root"}}
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
    "note shape:lantern sold-by company:zqxbarebuyer --source source:open-book --private",
    "note line:zqxbareline built-on shape:lantern --source source:zqxbareletter --private",
    "note shape:lantern sold-by company:calloway --source source:open-book --at page=11 --scope line:zqxbarescope --private",
    "note shape:lantern designed-by person:zqxlate --source source:open-book --quote zqxlatequote",
    "note shape:lantern sold-by company:calloway --source source:open-book --at page=12",
    "note shape:lantern sold-by company:calloway --stance argued --premises 'piece:jug held-by person:zqxowner' --strength 0.4 --reason zqxfrompremise",
    "note shape:lantern has-feature feature:zqxbarerim --stance argued --premises 'piece:jug held-by person:zqxowner' --strength 0.4 --reason zqxonlypremise",
    "settle 'shape:lantern modelled-by person:wrenholt' --reject --reasons 'after all of it'",
    "settle 'shape:lantern modelled-by person:ennersley' --accept --reasons zqxruling --private",
    "settle 'shape:lantern dropped-in 1940' --leave-open --reasons zqxleaveopen --private",
    "same person:zqxowner person:wrenholt --source source:open-book --quote zqxsamequote --reasons zqxsame",
    "same person:ennersley person:maud-e --source source:open-book --quote zqxsamequote --reasons zqxsameprivate --private",
    "withdraw 'shape:lantern dropped-in 1940' --reason zqxwithdraw",
    "note shape:plain comprises article:teapot --source source:open-book --at page=20",
    "note shape:plain comprises article:jug --source source:open-book --at page=20",
};

std::vector<std::string> questions() {
    std::vector<std::string> all = {
        "disputes", "history", "changes --since 1", "changes --since 10", "find lantern", "find qxlabel", "find qxquote", "find qxremark",
        "find qxtitle", "find qxbarebuyer", "find qxlate", "export --format jsonld", "export --as-of 3", "export --format trig --as-of 3",
        "check --as-of 3", "find late --as-of 3", "draw grid --relation sold-by --as svg", "draw grid --relation sold-by --as table",
        "draw grid --relation has-feature --as dot", "load circle.jsonl", "load circle.jsonl --dry-run", "merge theirs",
        "merge theirs --dry-run", "history --most 5", "find words", "same --suggest", "check", "show vocabulary",
        "profile show", "export", "export --since 3", "export --format csl-json", "export --format bibtex", "export --format ris",
        "export --format trig", "export --format nquads", "draw copying --as dot", "draw copying source:open-letter --as svg",
        "draw runs --as svg", "draw runs --pieces --as dot", "draw grid --as svg", "draw grid --as table", "draw date shape:lantern --as svg",
        "draw descent --as dot", "compare shape:lantern shape:lantern --time",
        "compare shape:lantern shape:plain", "compare shape:lantern shape:plain --relation sold-by",
        "compare person:ennersley person:wrenholt", "compare person:ennersley person:wrenholt --relation designed", "compare piece:jug piece:other",
        "identify --seen 'has-feature lug' --kind shape", "identify --seen 'comprises article:jug' --kind shape", "identify --seen 'has-feature feature:z' --kind shape",
        "identify --seen 'bears-mark mark:z'", "identify --seen 'sold-by company:z' --kind shape", "identify --seen 'sold-by z' --kind shape",
        "identify --seen 'sold-by company:calloway' --kind shape", "identify --seen 'made-in-year 1936' --kind shape",
        // Mistakes.
        "show person:z", "show source:z", "trace person:z", "weigh 'shape:lantern modelled-by person:z'", "cite source:z", "draw around person:z",
        "same person:z person:ennersley --reasons x", "show claim:zzzz", "note shape:lantern modelled-by person:z --source source:z --dry-run",
        "note shape:lantern modelled-byy person:z --source source:open-book", "withdraw claim:zzzz --reason x", "compare company:z shape:lantern --time",
        "weigh 'shape:lantern modelled-by person:ennersley' --what-if source:z=0.5", "find lantern --source source:z",
        "settle 'line:z built-on shape:lantern' --accept --reasons x", "withdraw 'line:z built-on shape:lantern' --reason x",
        "trace shape:lantern --to company:z", "draw trace line:z --as dot", "draw grid line:z --as svg", "draw runs line:z --as svg",
        "draw date line:z --as svg", "draw dispute 'line:z built-on shape:lantern' --as dot", "draw copying source:z --as dot"};
    // Keys near to private ones are no hint.
    for (const std::string key : {"company:z", "company:zq", "line:z", "source:z", "person:z", "feature:z", "source:zq"})
        for (const char* verb : {"show ", "disputes ", "date ", "cite ", "history ", "trace ", "dossier ", "draw around ", "draw descent "})
            all.push_back(verb + key);
    for (const std::string key : {"piece:jug", "shape:lantern", "person:wrenholt", "person:ennersley", "source:open-letter", "source:open-book",
                                  "article:teapot", "company:calloway"}) {
        for (const char* verb : {"show ", "disputes ", "date ", "cite ", "history ", "trace "}) all.push_back(verb + key);
        all.push_back("trace " + key + " --to-kind person");
        for (const char* verb : {"show ", "disputes ", "trace "}) all.push_back(verb + key + " --as-of 12");
        all.push_back("draw around " + key + " --depth 2 --as dot");
        all.push_back("draw around " + key + " --depth 2 --as svg");
        all.push_back("draw trace " + key + " --to-kind person --as dot");
    }
    for (const std::string claim : {"shape:lantern modelled-by person:ennersley", "shape:lantern modelled-by person:wrenholt",
                                    "shape:lantern introduced-in 1936", "shape:lantern introduced-in 1937", "shape:lantern comprises article:ewer",
                                    "shape:lantern comprises article:jug",
                                    "shape:lantern sold-by company:calloway", "piece:jug instance-of shape:lantern"}) {
        for (const char* verb : {"weigh", "cite", "draw weigh --whole --as dot", "draw weigh --whole --as svg", "draw dispute --as dot",
                                 "draw dispute --as svg"})
            all.push_back(std::string(verb) + " '" + claim + "'");
    }
    return all;
}

}  // namespace

TEST_CASE("nothing private gets out of any verb unless it is asked for", "[private]") {
    const CommandGraph graph("start --author Ann");
    graph.load("records.jsonl", records);
    for (const std::string& note : notes) {
        INFO(note);
        CHECK(graph.said(note).find("entry ") == 0);
    }
    graph.load("later.jsonl", later);
    // A private reading that a ruling looked at is withdrawn for a private reason.
    const std::string shown = graph.said("show 'shape:lantern' --with-private");
    const std::size_t mark = shown.rfind("evidence:", shown.find("  source:zqxsource"));
    REQUIRE(mark != std::string::npos);
    CHECK(graph.said("withdraw " + shown.substr(mark, shown.find(' ', mark) - mark) + " --reason zqxgone").find("entry ") == 0);
    graph.write("circle.jsonl", circle);
    const std::string theirs = "'" SAGGAR_BIN_DIR "/saggar' --graph theirs ";
    graph.shell(theirs + "start --author Cid");
    graph.write("theirs.jsonl", R"({"source":{"copied_from":[{"of":"source:open-copy"}],"family":"theirs","key":"source:open-root","title":"Another title"}}
{"source":{"family":"theirs","key":"source:open-letter","title":"Open letter","type":"letter"}}
)");
    graph.shell(theirs + "load theirs.jsonl");

    // They are there for who asks.
    CHECK(tells(graph.said("export --with-private")));
    CHECK(tells(graph.said("show piece:jug --with-private")));
    CHECK(tells(graph.said("check --with-private")));
    CHECK(tells(graph.said("draw grid --relation sold-by --as svg --with-private")));
    CHECK(tells(graph.said("--json trace piece:jug --to-kind person --with-private")));
    CHECK(tells(graph.said("disputes --with-private")));
    // The circle is refused, and said to be one.
    CHECK(graph.said("load circle.jsonl").find("source:open-copy") != std::string::npos);
    // What is open is not hidden with them.
    const std::string open_check = graph.said("check");
    CHECK(open_check.find("company:calloway") != std::string::npos);
    CHECK(open_check.find("person:ennersley") != std::string::npos);
    CHECK(graph.said("draw grid --relation sold-by --as table").find("calloway") != std::string::npos);

    std::size_t searched = 0;
    const auto search = [&](const std::string& text) {
        ++searched;
        CHECK_FALSE(tells(text));
    };
    for (const std::string& question : questions()) {
        INFO(question);
        search(graph.said(question));
        search(graph.said("--json " + question));
    }
    std::vector<std::string> files = {"export --bag out", "export --format tables -o out"};
    for (const char* key : {"piece:jug", "shape:lantern", "person:wrenholt", "company:calloway"}) files.push_back(std::string("dossier ") + key + " -o out");
    for (const std::string& question : files) {
        INFO(question);
        search(graph.said(question));
        for (const auto& file : fs::recursive_directory_iterator(graph.path("out"))) {
            INFO(file.path().filename().string());
            // Painted pictures are bytes that may spell anything; their drawings are searched beside them.
            if (file.is_regular_file() && file.path().extension() != ".png") search(graph.shell("cat '" + file.path().string() + "'"));
        }
        fs::remove_all(graph.path("out"));
    }
    const std::string other = "'" SAGGAR_BIN_DIR "/saggar' --graph merged ";
    graph.shell(other + "start --author Bea");
    search(graph.shell(other + "--json merge graph"));
    search(graph.shell(other + "export --with-private"));  // it never came here
    search(graph.shell(other + "history --with-private"));
    CHECK(searched > 600);
}
