// Reads bytes as a file of one format through the checks that `load` uses. What comes out must be writable and readable again.
#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "importers/checked_sink.h"
#include "importers/reader.h"

namespace saggar::fuzz {

class LineCheck final : public Sink {
public:
    void put(Record record, const Origin& origin) override {
        origin.place_of("subject");
        const std::string line = to_json_line(record);
        Problems problems;
        const auto back = RecordJsonReader().read(TextLines("x", line), problems);
        if (back && std::get<Record>(*back) == record) return;
        std::fprintf(stderr, "does not read back: %s\n", line.c_str());
        std::abort();
    }
};

inline void read_as(const std::uint8_t* data, std::size_t size, const char* name,
                    std::optional<Format> format = std::nullopt) {
    Problems problems;
    LineCheck lines;
    CheckedSink checked(lines, Vocabulary::standard(), Profile::standard(), problems);
    const ReadContext context{Vocabulary::standard(), "F. U."};
    ReadOptions options;
    options.format = format;
    read_bytes(std::string_view(reinterpret_cast<const char*>(data), size), name, options, context, checked, problems);
    for (const Problem& problem : problems.list()) to_text(problem);
}

}  // namespace saggar::fuzz
