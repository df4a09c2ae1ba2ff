// The documents of a graph, by the first byte: "0" a vocabulary with its rules, "1" a weighing profile, "2" what words become at
// a merge. Other bytes stand for one of these.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "importers/merge/word_map.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/rules.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace saggar;
    if (size == 0) return 0;
    const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
    Problems problems;
    if (data[0] % 3 == 2) {
        try {
            const WordChoice choice = WordChoice::parse(std::string(text), "words.json");
            const Vocabulary& ours = Vocabulary::standard();
            WordMap(ours, &ours, Profile::standard(), nullptr, choice);
        } catch (const UsageFault&) {
        }
    } else if (data[0] % 3 == 1) {
        const auto profile = Profile::parse(text, problems);
        if (profile && !profile->certainty_of("0.5")) std::abort();
    } else if (const auto vocabulary = Vocabulary::parse(text, problems)) {
        if (vocabulary->document() != text) std::abort();
        for (const Relation& relation : vocabulary->relations())
            if (!vocabulary->find_use(relation.name)) std::abort();
        read_rules(text, *vocabulary, problems);
    }
    for (const Problem& problem : problems.list()) to_text(problem);
    return 0;
}
