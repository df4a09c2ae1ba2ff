// RDF: the first byte says which syntax, then the text; behind a line of three hyphens perhaps a mapping document.
#include <algorithm>

#include "importers/rdf/mapping.h"
#include "tests/fuzz/read_as.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    static constexpr const char* names[] = {"a.ttl", "a.trig", "a.nt", "a.nq"};
    const std::string_view all(reinterpret_cast<const char*>(data) + 1, size - 1);
    const std::size_t split = std::min(all.find("\n---\n"), all.size());
    saggar::fuzz::read_as(data + 1, split, names[data[0] % 4]);
    if (split == all.size()) return 0;
    saggar::Problems problems;
    saggar::rdf::Mapping::read(all.substr(split + 5), "m.json", saggar::Vocabulary::standard(), data[0] % 2 == 0, problems);
    for (const saggar::Problem& problem : problems.list()) saggar::to_text(problem);
    return 0;
}
