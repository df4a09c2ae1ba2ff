// Finding aids in EAD3.
#include "tests/fuzz/read_as.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    saggar::fuzz::read_as(data, size, "a.xml", saggar::Format::ead);
    return 0;
}
