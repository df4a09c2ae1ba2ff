// Every verb's text fits the terminal: 80 and 60 cells (UAX #11: combining marks take none, wide signs two). Only a word that is itself wider may stand out, alone on its line.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "app/text/folding.h"
#include "app/text/layout.h"
#include "tests/app/command.h"

using saggar::testing::CommandGraph;
using namespace saggar::app;

namespace {

const std::string kSaggar = "'" SAGGAR_BIN_DIR "/saggar' --graph graph ";

// The Skerrow example with a thing of wide, combining and long names.
const CommandGraph& example() {
    static const CommandGraph* graph = [] {
        auto* made = new CommandGraph("--version");
        made->shell("SAGGAR='" SAGGAR_BIN_DIR "/saggar' sh '" SAGGAR_SOURCE_DIR "/examples/skerrow/load.sh' \"$PWD/graph\"");
        made->write("wide.csv",
                    "key,label,remark\nshape:wide,青花青花青花 青花青花青花 青花青花青花 青花青花青花 青花青花青花 青花 Se\u0300vres "
                    "Se\u0300vres,青花青花青花 青花青花青花 青花青花青花 青花青花青花 青花青花青花 青花青花青花\n");
        made->said("load wide.csv");
        made->said("note shape:wide has-feature feature:long --source source:memo-1937-11-08 --quote '青花青花青花 青花青花青花 青花青花青花 青花青花青花 青花青花'");
        return made;
    }();
    return *graph;
}

const char* const kCalls[] = {
    "--help",
    "find northern",
    "find 青花",
    "show shape:tern",
    "show shape:wide",
    "show line:northern",
    "show vocabulary",
    "vocabulary load nothing.json",
    "trace line:northern --to-kind company",
    "disputes",
    "settle 'shape:tern comprises article:tureen' --decision rejected --reason 'None was made for any buyer whom the books name, long as they are'",
    "same --suggest",
    "weigh 'shape:tern comprises article:tureen'",
    "weigh 'line:northern commissioned-by company:northern-provident'",
    "profile load nothing.json",
    "date piece:halyard-jug-unmarked",
    "date shape:pinnace --years",
    "date --read 1931~",
    "compare shape:tern shape:orlop --time",
    "compare shape:tern shape:orlop",
    "compare shape:fathom shape:lantern shape:tern shape:wide",
    "identify --seen 'has-feature rope-handle' --seen 'article-of jug'",
    "identify --seen 'has-featur rope'",
    "cite shape:pinnace",
    "cite shape:wide",
    "draw grid --as table",
    "draw runs --as table",
    "draw date shape:pinnace --as table",
    "dossier shape:wide -o dossier",
    "history",
    "changes --since 20",
    "withdraw nothing",
    "merge nowhere",
    "check",
    "backup backup",
    "restore backup again",
    "export --help",
    "start",
    "load nothing.csv",
    "note shape:tern nothing article:teapot",
    "show nothing:whatever-there-is-of-a-name-that-is-rather-long",
};

std::vector<std::string> too_wide(const std::string& text, std::size_t width) {
    std::vector<std::string> found;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (cells(line) <= width) continue;
        const auto first = line.find_first_not_of(' ');
        if (line.find(' ', first) != std::string::npos) found.push_back(line);
    }
    return found;
}

}  // namespace

TEST_CASE("every verb's text fits 80 and 60 cells", "[width]") {
    for (const int width : {80, 60}) {
        for (const char* call : kCalls) {
            const auto text = example().shell("COLUMNS=" + std::to_string(width) + " " + kSaggar + call);
            INFO(call << " at " << width);
            CHECK_FALSE(text.empty());
            for (const auto& line : too_wide(text, static_cast<std::size_t>(width))) {
                UNSCOPED_INFO(line);
                CHECK(line.empty());
            }
        }
    }
}

// A document goes out as it is, however narrow the terminal: folded it could not be read back.
TEST_CASE("documents are not folded", "[width]") {
    const auto& graph = example();
    graph.write("wide.csv", "Shape,Designer,Maker,Retailer,Introduced\nLantern,Maud Ennersley,Skerrow Pottery,Calloway,in the days of old\n");
    for (const char* const call : {"vocabulary show", "profile show", "show vocabulary --json", "load --suggest wide.csv 2>/dev/null", "export --format csl-json 2>/dev/null"}) {
        INFO(call);
        CHECK(graph.shell("COLUMNS=60 " + kSaggar + call) == graph.shell("COLUMNS=140 " + kSaggar + call));
        CHECK(nlohmann::json::accept(graph.shell("COLUMNS=60 " + kSaggar + call)));
    }
}

// The verbs that have a call above are all there are.
TEST_CASE("no verb is left out of the width test", "[width]") {
    std::istringstream help(example().shell("COLUMNS=140 " + kSaggar + "--help"));
    std::set<std::string> called;
    for (const std::string call : kCalls) called.insert(call.substr(0, call.find(' ')));
    bool listed = false;
    for (std::string line; std::getline(help, line);) {
        if (line.rfind("Subcommands", 0) == 0) listed = true;
        if (!listed || line.size() < 3 || line.substr(0, 2) != "  " || line[2] == ' ' || line[2] == '-') continue;
        const auto verb = line.substr(2, line.find(' ', 2) - 2);
        const bool is_server = verb == "desk";  // it prints one line and stays
        INFO(verb);
        CHECK((is_server || called.count(verb) == 1));
    }
    CHECK(listed);
}

// NO_COLOR: https://no-color.org, "when present and not an empty string … prevents the addition of ANSI color".
TEST_CASE("colour is for a terminal alone and never with NO_COLOR", "[width]") {
    const auto& graph = example();
    if (graph.shell("command -v script").empty()) {
        WARN("script (util-linux) is not installed: no pseudo-terminal was tried");
        return;
    }
    const auto on_terminal = [&graph](const std::string& before) {
        return graph.shell("script -qec \"" + before + " TERM=xterm COLUMNS=80 " + kSaggar + "show shape:tern\" /dev/null < /dev/null");
    };
    const auto coloured = on_terminal("env"), plain = on_terminal("env NO_COLOR=1");
    CHECK(coloured.find("\x1b[") != std::string::npos);
    CHECK(plain.find("\x1b[") == std::string::npos);
    CHECK(graph.shell("COLUMNS=80 TERM=xterm " + kSaggar + "show shape:tern").find('\x1b') == std::string::npos);
    // Nothing is said by colour alone: without its marks the coloured text is the plain one.
    std::string stripped;
    for (std::size_t i = 0; i < coloured.size(); ++i) {
        if (coloured[i] == '\x1b') {
            i = coloured.find('m', i);
        } else {
            stripped += coloured[i];
        }
    }
    CHECK(stripped == plain);
}

TEST_CASE("a line is folded at blanks with its own indentation and more", "[width]") {
    CHECK(folded("short", 10) == "short");
    CHECK(folded("  one two three four", 12) == "  one two\n      three\n      four");
    CHECK(folded("\x1b[1mone two\x1b[0m", 8) == "\x1b[1mone two\x1b[0m");
    CHECK(folded("averyveryverylongword", 8) == "averyveryverylongword");
    CHECK(folded("青花 青花", 8) == "青花\n    青花");
    CHECK(folded("             x", 8).empty() == false);
    CHECK(folded("            ", 8).empty());
}
