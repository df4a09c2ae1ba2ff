#include "golden.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace saggar::testing {

std::string golden(const std::string& name, const std::string& text) {
    const auto path = std::filesystem::path(SAGGAR_SOURCE_DIR) / "tests" / "viz" / "golden" / name;
    if (std::getenv("SAGGAR_BLESS") != nullptr) {
        std::filesystem::create_directories(path.parent_path());
        std::ofstream(path, std::ios::binary) << text;
    }
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace saggar::testing
