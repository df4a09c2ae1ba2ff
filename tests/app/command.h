// One graph in a folder of its own, asked through the command as a person asks it.
#pragma once

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include "tests/kg/store/temporary_folder.h"

namespace saggar::testing {

class CommandGraph {
public:
    explicit CommandGraph(const std::string& start = "start --author 'T. Est'") { said(start); }

    std::filesystem::path path(const std::string& file) const { return folder_.path() / file; }
    void write(const std::string& file, const std::string& bytes) const {
        std::filesystem::create_directories(path(file).parent_path());
        std::ofstream(path(file), std::ios::binary) << bytes;
    }
    // What a shell command prints, both streams, run in the folder.
    std::string shell(const std::string& command) const {
        std::FILE* pipe = ::popen(("cd '" + folder_.path().string() + "'; { " + command + "\n} 2>&1").c_str(), "r");
        std::string text;
        char buffer[4096];
        while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe)) text.append(buffer, got);
        ::pclose(pipe);
        return text;
    }
    // What saggar prints.
    std::string said(const std::string& words) const {
        return shell("SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph graph " + words);
    }
    // Writes a file and loads it.
    std::string load(const std::string& file, const std::string& bytes, const std::string& options = "") const {
        write(file, bytes);
        return said("load '" + file + "' " + options);
    }
    // A table with CSVW metadata: its members but context and url.
    std::string load_mapped(const std::string& file, const std::string& bytes, const std::string& members) const {
        write(file + "-metadata.json",
              R"({"@context":"http://www.w3.org/ns/csvw","url":")" + file + "\"," + members + "}");
        return load(file, bytes);
    }
    // The graph as JSON Lines, without the documents.
    std::string lines() const {
        return shell("'" SAGGAR_BIN_DIR "/saggar' --graph graph export --with-private | grep -v '^{\"document\"'");
    }

private:
    TemporaryFolder folder_;
};

inline std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

}  // namespace saggar::testing
