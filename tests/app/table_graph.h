// A graph as a researcher makes one: small tables on disk, loaded by the command and asked through it.
#pragma once

#include <catch2/catch.hpp>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "app/args.h"
#include "tests/kg/store/temporary_folder.h"

namespace saggar::testing {

struct Said {
    int status = 0;
    std::string out, err;
};

class TableGraph {
public:
    explicit TableGraph(const std::string& profile = "") {
        std::vector<std::string> start{"start", "--author", "tester"};
        if (!profile.empty()) start.insert(start.end(), {"--profile", file("profile.json", profile)});
        REQUIRE(say(start).status == 0);
    }

    // Runs the command on this graph.
    Said say(std::vector<std::string> words) const {
        words.insert(words.end(), {"--graph", (folder_.path() / "g").string()});
        std::ostringstream out, err;
        Said said;
        said.status = app::run(words, out, err);
        said.out = out.str();
        said.err = err.str();
        return said;
    }

    std::string file(const std::string& name, const std::string& text) const {
        const std::string path = (folder_.path() / name).string();
        std::ofstream(path, std::ios::binary) << text;
        return path;
    }

    Said try_load(const std::string& table) {
        return say({"load", file("table-" + std::to_string(++tables_) + ".csv", table)});
    }
    void load(const std::string& table) {
        const Said said = try_load(table);
        INFO(said.out << said.err);
        REQUIRE(said.status == 0);
    }

    nlohmann::json ask(std::vector<std::string> words) const {
        words.push_back("--json");
        const Said said = say(words);
        INFO(said.err);
        REQUIRE(said.status == 0);
        return nlohmann::json::parse(said.out);
    }

private:
    TemporaryFolder folder_;
    int tables_ = 0;
};

// The number at a path such as "/joint/influence/source=source:s-a/slope": a JSON pointer (RFC 6901), except that a part with
// '=' picks the element of an array with that member. "A - B" is a difference; A and B are paths or numbers.
inline double number_at(const nlohmann::json& answer, const std::string& path) {
    const auto minus = path.find(" - ");
    if (minus != std::string::npos)
        return number_at(answer, path.substr(0, minus)) - number_at(answer, path.substr(minus + 3));
    if (path.empty() || path[0] != '/') return std::stod(path);
    const nlohmann::json* at = &answer;
    std::istringstream parts(path.substr(1));
    for (std::string part; std::getline(parts, part, '/');) {
        const auto equals = part.find('=');
        if (equals == std::string::npos) {
            at = &at->at(part);
            continue;
        }
        const nlohmann::json* found = nullptr;
        for (const nlohmann::json& element : *at)
            if (element.at(part.substr(0, equals)) == part.substr(equals + 1)) found = &element;
        INFO(part);
        REQUIRE(found);
        at = found;
    }
    return at->get<double>();
}

}  // namespace saggar::testing
