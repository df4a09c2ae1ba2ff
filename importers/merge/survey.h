// A first look over somebody else's history: what must be known before its records can be taken one by one.
//
// Kept: what is private there, every version of every description, the last vocabulary and profile.
// Cost: memory for the descriptions and for the ids of claims.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "importers/sink.h"
#include "kg/store/private_filter.h"

namespace saggar {

class MergeSurvey final : public Sink {
public:
    void put(Record record, const Origin&) override {
        ++records;
        filter.note(record);
        if (const auto* entity = std::get_if<Entity>(&record)) entities.push_back(*entity);
        if (const auto* source = std::get_if<Source>(&record)) sources.push_back(*source);
    }
    void begin_entry(EntryHeader entry, const Origin&) override {
        if (entries++ == 0) first_entry = entry.number;
    }
    void document(DocumentLine line, const Origin&) override { (line.name == "profile" ? profile : vocabulary) = line.text; }

    PrivateFilter filter;
    std::vector<Entity> entities;  // in the order they were put: later ones replace earlier ones of the same key
    std::vector<Source> sources;
    std::string vocabulary;  // JSON text; empty: none told, as in a part of a history
    std::string profile;
    std::uint64_t records = 0;
    std::uint64_t entries = 0;
    std::uint64_t first_entry = 0;
};

}  // namespace saggar
