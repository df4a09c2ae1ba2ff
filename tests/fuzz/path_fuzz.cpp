// Property paths: what is read becomes an automaton; what is refused has one problem with a place.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "queries/path.h"
#include "queries/path_automaton.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    Problems problems;
    const auto path = parse_path(text, Vocabulary::standard(), problems);
    if (path.has_value() == problems.any_error()) std::abort();
    if (path) PathPositions positions(*path);
    for (const Problem& problem : problems.list()) to_text(problem);
    return 0;
}
