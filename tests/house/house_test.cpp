// The house rules that a machine can check: which room may look into which, and what stands in files.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace fs = std::filesystem;

namespace {

const fs::path top = SAGGAR_SOURCE_DIR;

// Folder -> folders it may include. Within kg the rooms stack too.
const std::map<std::string, std::set<std::string>> allowed = {
    {"kg/model", {"kg/model"}},
    {"kg/time", {"kg/time", "kg/model"}},
    {"kg/store", {"kg/store", "kg/model", "kg/time"}},
    {"kg/graph", {"kg/graph", "kg/store", "kg/model"}},
    {"kg/weigh", {"kg/weigh", "kg/store", "kg/time", "kg/model"}},
    {"importers", {"importers", "kg"}},
    {"queries", {"queries", "kg"}},
    {"viz", {"viz", "queries", "kg"}},
    {"app", {"app", "viz", "queries", "importers", "kg"}},
};

std::string room_of(const std::string& path) {
    for (const auto& [room, others] : allowed)
        if (path.compare(0, room.size() + 1, room + "/") == 0) return room;
    return "";
}

bool may_include(const std::string& room, const std::string& path) {
    const auto& rooms = allowed.at(room);
    return std::any_of(rooms.begin(), rooms.end(),
                       [&](const std::string& other) { return path.compare(0, other.size() + 1, other + "/") == 0; });
}

std::string text_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<fs::path> sources() {
    std::vector<fs::path> found;
    for (const char* folder : {"kg", "importers", "queries", "viz", "app"})
        for (const auto& item : fs::recursive_directory_iterator(top / folder))
            if (item.path().extension() == ".h" || item.path().extension() == ".cpp")
                found.push_back(fs::relative(item.path(), top));
    std::sort(found.begin(), found.end());
    return found;
}

}  // namespace

TEST_CASE("rooms include only the rooms below them") {
    const std::regex include("#include \"([^\"]+)\"");
    for (const fs::path& file : sources()) {
        const std::string room = room_of(file.generic_string());
        INFO(file);
        REQUIRE_FALSE(room.empty());
        const std::string text = text_of(top / file);
        for (std::sregex_iterator at(text.begin(), text.end(), include), end; at != end; ++at) {
            const std::string path = (*at)[1];
            if (path.compare(0, 9, "embedded/") == 0) continue;  // made by the build
            INFO("includes " << path);
            CHECK(may_include(room, path));
        }
    }
}

TEST_CASE("the graph library, the database and the command line each have their one place") {
    const std::vector<std::pair<std::string, std::string>> places = {{"rocksdb/", "kg/store/"},
                                                                     {"CLI/", "app/args.cpp"},
                                                                     {"bdd.h>", "kg/weigh/"},
                                                                     {"graphviz/", "viz/"},
                                                                     {"serd/", "importers/"}};
    for (const fs::path& file : sources()) {
        const std::string text = text_of(top / file);
        for (const auto& [header, place] : places) {
            if (text.find("#include <" + header) == std::string::npos) continue;
            INFO(file << " includes <" << header);
            CHECK(file.generic_string().compare(0, place.size(), place) == 0);
        }
    }
}

TEST_CASE("headers say once that they are included once, and files stay small") {
    for (const fs::path& file : sources()) {
        const std::string text = text_of(top / file);
        INFO(file);
        if (file.extension() == ".h") CHECK(text.find("#pragma once") != std::string::npos);
        CHECK(std::count(text.begin(), text.end(), '\n') <= 420);
    }
}

TEST_CASE("the top level holds what it should and nothing else") {
    const std::set<std::string> known = {
        "CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "kg",
        "importers",      "queries",           "viz",       "app",           "tests",        "examples"};
    for (const auto& item : fs::directory_iterator(top)) {
        const std::string name = item.path().filename().string();
        if (name[0] == '.' || name.compare(0, 5, "build") == 0 || name == "saggar-graph") continue;
        INFO(name);
        CHECK(known.count(name) == 1);
    }
}
