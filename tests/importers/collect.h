// A sink that keeps everything, and one call to read a text through the checks as `load` does.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "importers/checked_sink.h"
#include "importers/reader.h"

namespace saggar::test {

class Collected final : public Sink {
public:
    void put(Record record, const Origin& origin) override {
        if (const auto* claim = std::get_if<Claim>(&record)) claims_.insert(id_of(*claim));
        lines.push_back(origin.line());
        records.push_back(std::move(record));
    }
    void begin_entry(EntryHeader entry, const Origin&) override { entries.push_back(std::move(entry)); }

    bool has_claim(const ContentId& id) const { return claims_.count(id) != 0; }

    template <class R>
    std::vector<R> all() const {
        std::vector<R> found;
        for (const Record& record : records) {
            if (const auto* one = std::get_if<R>(&record)) found.push_back(*one);
        }
        return found;
    }
    template <class R>
    R only() const {
        const auto found = all<R>();
        return found.size() == 1 ? found.front() : R();
    }

    std::vector<Record> records;
    std::vector<std::uint32_t> lines;
    std::vector<EntryHeader> entries;

private:
    std::set<ContentId> claims_;
};

// Reads bytes as the file `name` with the standard vocabulary, through the checks.
inline Collected read_text(std::string_view bytes, const std::string& name, Problems& problems,
                           const ReadOptions& options = {}) {
    Collected collected;
    const ReadContext context{Vocabulary::standard(), "M. E."};
    CheckedSink checked(collected, Vocabulary::standard(), Profile::standard(), problems,
                        [&](const ContentId& id) { return collected.has_claim(id); });
    read_bytes(bytes, name, options, context, checked, problems);
    return collected;
}

// All problems as text.
inline std::string all_problems(const Problems& problems) {
    std::string out;
    for (const Problem& problem : problems.list()) out += to_text(problem);
    if (problems.not_kept()) out += "and " + std::to_string(problems.not_kept()) + " more\n";
    return out;
}

// Reads what must be read without any problem.
inline Collected read_good(std::string_view bytes, const std::string& name, const ReadOptions& options = {}) {
    Problems problems;
    Collected collected = read_text(bytes, name, problems, options);
    if (problems.errors() + problems.warnings()) throw std::runtime_error(all_problems(problems));
    return collected;
}

}  // namespace saggar::test
