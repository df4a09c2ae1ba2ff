// The walk-throughs of examples/walks are run as they stand and their output compared.
//
// A walk is Markdown; in its fenced blocks a line "$ COMMAND" is run by sh, and the lines up to the next one are what
// it prints (standard output and error together). "<!-- graph: skerrow -->" in the file gives it a graph with the
// Skerrow example. To accept new output: SAGGAR_BLESS=1 app_test "[walks]"; then look at the difference before you
// commit it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/kg/store/temporary_folder.h"

namespace fs = std::filesystem;
using saggar::testing::TemporaryFolder;

namespace {

const std::string top = SAGGAR_SOURCE_DIR;

std::string run(const std::string& command) {
    std::FILE* pipe = ::popen(("{ " + command + "\n} 2>&1").c_str(), "r");
    if (!pipe) return "cannot run";
    std::string out;
    std::array<char, 4096> buffer;
    while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), pipe)) out.append(buffer.data(), got);
    ::pclose(pipe);
    return out;
}

std::string in_quotes(const fs::path& path) {
    return "'" + path.string() + "'";
}

// The Skerrow graph, loaded once for all walks.
const fs::path& skerrow_graph() {
    static TemporaryFolder folder;
    static const fs::path graph = [] {
        const fs::path made = folder.path() / "graph";
        const std::string said = run("sh " + in_quotes(top + "/examples/skerrow/load.sh") + " " + in_quotes(made));
        INFO(said);
        REQUIRE(fs::exists(made / "db" / "CURRENT"));
        return made;
    }();
    return graph;
}

std::string environment(const fs::path& folder) {
    return "cd " + in_quotes(folder) +
           "; export PATH='" SAGGAR_BIN_DIR
           "':\"$PATH\" SAGGAR_GRAPH=graph COLUMNS=100 LC_ALL=C.UTF-8 SOURCE_DATE_EPOCH=1767225600; ";
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

// The walk as it would read with the output of today.
std::string walked(const std::string& text) {
    TemporaryFolder folder;
    fs::create_directory_symlink(top + "/examples/skerrow", folder.path() / "skerrow");
    fs::create_directory_symlink(top + "/examples", folder.path() / "examples");
    if (text.find("<!-- graph: skerrow -->") != std::string::npos)
        fs::copy(skerrow_graph(), folder.path() / "graph", fs::copy_options::recursive);
    std::string out;
    bool fenced = false;
    bool in_output = false;
    for (const std::string& line : lines_of(text)) {
        if (line.compare(0, 3, "```") == 0) {
            fenced = !fenced;
            in_output = false;
            out += line + "\n";
        } else if (fenced && line.compare(0, 2, "$ ") == 0) {
            out += line + "\n" + run(environment(folder.path()) + line.substr(2));
            if (out.back() != '\n') out += '\n';
            in_output = true;
        } else if (!in_output) {
            out += line + "\n";
        }
    }
    return out;
}

}  // namespace

TEST_CASE("every walk-through prints what it says", "[walks]") {
    ::setenv("SAGGAR", SAGGAR_BIN_DIR "/saggar", 1);
    ::setenv("SOURCE_DATE_EPOCH", "1767225600", 1);
    std::vector<fs::path> walks;
    for (const auto& item : fs::directory_iterator(top + "/examples/walks"))
        if (item.path().extension() == ".md") walks.push_back(item.path());
    std::sort(walks.begin(), walks.end());
    REQUIRE_FALSE(walks.empty());
    for (const fs::path& walk : walks) {
        std::ifstream in(walk, std::ios::binary);
        std::ostringstream text;
        text << in.rdbuf();
        const std::string today = walked(text.str());
        if (std::getenv("SAGGAR_BLESS")) {
            std::ofstream(walk, std::ios::binary) << today;
            continue;
        }
        INFO(walk);
        CHECK(today == text.str());
    }
}
