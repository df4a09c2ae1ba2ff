// Draft texts: what they cite, and whatever may follow a key as its locator.
#include <cstdint>
#include <string_view>

#include "queries/cite_draft.h"
#include "queries/draft_locator.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    mentions_in_draft(text);
    names_in_draft(text);
    read_draft_locator(text);
    return 0;
}
