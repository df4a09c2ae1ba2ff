// Runs a Python script as an outside reference (Debian's python3 with its libraries), for tests only.
#pragma once

#include <stdlib.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

namespace saggar::test {

// Whether Debian's python3 has this module.
inline bool python_has(const std::string& module) {
    return std::system(("/usr/bin/python3 -c 'import " + module + "' 2>/dev/null").c_str()) == 0;
}

// What the script writes when it is given the name of a file that holds `input`. Nothing where it fails.
inline std::optional<std::string> run_python(const std::string& script, const std::string& input) {
    std::string folder = (std::filesystem::temp_directory_path() / "saggar-test-XXXXXX").string();
    if (!mkdtemp(folder.data())) return std::nullopt;
    std::ofstream(folder + "/script.py") << script;
    std::ofstream(folder + "/input.txt") << input;
    std::optional<std::string> answer;
    const std::string command = "/usr/bin/python3 '" + folder + "/script.py' '" + folder + "/input.txt'";
    if (FILE* const pipe = popen(command.c_str(), "r")) {
        answer.emplace();
        std::array<char, 4096> buffer;
        while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), pipe)) answer->append(buffer.data(), got);
        if (pclose(pipe) != 0) answer.reset();
    }
    std::filesystem::remove_all(folder);
    return answer;
}

}  // namespace saggar::test
