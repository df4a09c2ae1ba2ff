// Manifests of bags: no path that is let through leads out of the bag, and paths are written as they are read.
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <string_view>

#include "importers/bag/bag_manifest.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    for (const bool payload : {true, false}) {
        Problems problems;
        TextInput input("manifest-sha512.txt", open_bytes(text), problems);
        for (const auto& [path, file] : read_bag_manifest(input, payload ? 4 : 2, payload)) {
            const std::filesystem::path whole = (std::filesystem::path("/bag") / path).lexically_normal();
            if (whole.generic_string().rfind(payload ? "/bag/data/" : "/bag/", 0) != 0) std::abort();
            if (decode_bag_path(encode_bag_path(path)) != path) std::abort();
        }
        for (const Problem& problem : problems.list()) to_text(problem);
    }
    return 0;
}
