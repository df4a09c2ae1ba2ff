// Every file in bad/ is refused with exactly the messages kept beside it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

namespace {

std::string whole_file(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::vector<fs::path> bad_files() {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(fs::path(SAGGAR_SOURCE_DIR) / "tests/importers/bad")) {
        const std::string ending = entry.path().extension().string();
        if (ending != ".expected" && entry.path().filename() != "README.md") files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace

TEST_CASE("bad files are refused with their messages", "[bad]") {
    const bool bless = std::getenv("SAGGAR_BLESS") != nullptr;
    const std::vector<fs::path> files = bad_files();
    CHECK(files.size() >= 40);
    for (const fs::path& file : files) {
        Problems problems;
        read_text(whole_file(file), file.filename().string(), problems);
        const fs::path expected = file.string() + ".expected";
        if (bless) std::ofstream(expected, std::ios::binary) << all_problems(problems);
        INFO(file.filename());
        CHECK(problems.any_error());
        CHECK(all_problems(problems) == whole_file(expected));
        for (const Problem& problem : problems.list()) {
            CHECK_FALSE(problem.id.empty());
            CHECK_FALSE(problem.message.empty());
            CHECK_FALSE(problem.next_step.empty());
            CHECK(problem.place.file == file.filename().string());
        }
    }
}
