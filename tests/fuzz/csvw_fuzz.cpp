// CSVW: metadata, a line of three hyphens, then the table it describes.
#include <algorithm>
#include <cstdint>
#include <string_view>

#include "importers/csvw/annotated_rows.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    const std::string_view all(reinterpret_cast<const char*>(data), size);
    const std::size_t split = std::min(all.find("\n---\n"), all.size());
    Problems problems;
    const auto group = csvw::read_metadata(all.substr(0, split), "m.json", problems);
    if (!group || group->tables.empty()) return 0;
    const std::string_view table = split < all.size() ? all.substr(split + 5) : std::string_view();
    TextInput input("t.csv", open_bytes(table), problems);
    csvw::AnnotatedRows rows(group->tables.front(), input);
    if (!rows.start()) return 0;
    while (rows.next()) {
    }
    return 0;
}
