// Runs a fuzz target without a fuzzer: every seed, every beginning of it, and every byte of it replaced by a few others.
//
// Finds only what lies near the seeds; the fuzzer itself runs with SAGGAR_FUZZ (see CMakeLists.txt).
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void run_one(const std::string& text) {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
}

void run_seed(const std::string& seed) {
    run_one(seed);
    const std::size_t step = std::max<std::size_t>(1, seed.size() / 2000);
    for (std::size_t i = 0; i < seed.size(); i += step) {
        run_one(seed.substr(0, i));
        for (const char byte : {'\0', ' ', '0', '9', 'X', '-', '.', '"', '\n', '\x80', '\xFF'}) {
            std::string changed = seed;
            changed[i] = byte;
            run_one(changed);
        }
    }
}

}  // namespace

int main(int count, char** arguments) {
    if (count != 2) {
        std::fprintf(stderr, "usage: %s FOLDER-OF-SEEDS\n", arguments[0]);
        return 2;
    }
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(arguments[1])) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    if (files.empty()) {
        std::fprintf(stderr, "no seeds in %s\n", arguments[1]);
        return 1;
    }
    for (const auto& path : files) {
        std::ifstream file(path, std::ios::binary);
        run_seed(std::string(std::istreambuf_iterator<char>(file), {}));
    }
    std::printf("%zu seeds\n", files.size());
    return 0;
}
