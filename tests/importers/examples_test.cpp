// The table of examples at the end of importers/FORMATS.md: every format has one, and each is read without a mistake.
#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include "tests/importers/collect_folder.h"

using namespace saggar;
using namespace saggar::test;

namespace {

struct Example {
    std::string format;
    std::string file;
    std::string map;
};

// The words of a row in back quotes; the first cell has none.
std::vector<Example> examples() {
    std::vector<Example> all;
    std::ifstream in(std::string(SAGGAR_SOURCE_DIR) + "/importers/FORMATS.md");
    bool in_table = false;
    for (std::string line; std::getline(in, line);) {
        if (line.rfind("## ", 0) == 0) in_table = line == "## An example of each";
        if (!in_table || line.find("| `examples/") == std::string::npos) continue;
        Example one;
        one.format = line.substr(2, line.find(' ', 2) - 2);
        const std::size_t file = line.find('`') + 1;
        const std::size_t end = line.find('`', file);
        one.file = line.substr(file, end - file);
        const std::size_t map = line.find('`', end + 1);
        if (map != std::string::npos) one.map = line.substr(map + 1, line.find('`', map + 1) - map - 1);
        all.push_back(one);
    }
    return all;
}

}  // namespace

TEST_CASE("every format has an example that is read without a mistake", "[examples]") {
    const std::filesystem::path top = SAGGAR_SOURCE_DIR;
    std::set<std::string> with_example;
    for (const Example& example : examples()) {
        INFO(example.format << ' ' << example.file);
        ReadOptions options;
        if (!example.map.empty()) options.map = (top / example.map).string();
        Problems problems;
        const CollectedFolder read = read_folder(top / example.file, problems, options);
        INFO(all_problems(problems));
        CHECK(problems.errors() == 0);
        CHECK(!read.records.records.empty());
        // Its format is told by its name and content, or by --as.
        const auto told = detect_format(top / example.file, "");
        if (told) CHECK(std::string(format_name(*told)) == example.format);
        with_example.insert(example.format);
    }
    const auto names = format_names();
    CHECK(with_example == std::set<std::string>(names.begin(), names.end()));
}
