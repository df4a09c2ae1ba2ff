// The keys by which rows are found, derived from the rows themselves: the links seen from both ends, the places of content
// ids, the evidence of each source, corrections, and the words of texts.
//
// Made chunk by chunk, by the thread that sorts: the thread that reads writes each claim and each piece of evidence once.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <string_view>

#include "kg/store/rows.h"
#include "kg/store/sorted_runs.h"

namespace saggar {

// The share of a change's memory for one family of keys.
std::size_t budget_of(char family, std::size_t whole);

// Used by one thread at a time.
class IndexRows {
public:
    IndexRows(std::filesystem::path folder, std::size_t memory_budget);

    // A chunk of rows of claims and evidence, not yet sorted.
    void derive(const PairChunk& rows);
    // A chunk of what IndexQueue gathered.
    void take(const PairChunk& queued);

    // The families made so far, for writing them.
    std::map<char, std::unique_ptr<SortedRuns>>& families() { return families_; }

private:
    void emit(std::string_view key, std::string_view value);
    void derive_claim(ClaimRef claim, std::string_view row);
    void derive_evidence(ClaimRef claim, std::uint32_t ordinal, std::string_view row);
    void words_of(std::string_view text, std::string_view where);

    std::filesystem::path folder_;
    std::size_t memory_budget_;
    std::map<char, std::unique_ptr<SortedRuns>> families_;
    std::string key_;
    std::string where_;
};

// Keys of the index that no claim or evidence row tells, waiting to be taken: words of things' names and of reasons, places of
// lists, arguments and rulings.
class IndexQueue {
public:
    void key(std::string_view key, std::string_view value) { queued_->add(key, value); }
    void words(std::string_view text, EntityId thing, FoundWord::Field field);
    void words(std::string_view text, ClaimRef claim, FoundWord::Field field);
    bool full() const { return queued_->bytes() >= full_bytes; }
    // What was gathered; the queue is empty afterwards.
    std::unique_ptr<PairChunk> release();

private:
    static constexpr std::size_t full_bytes = 1 << 20;
    std::unique_ptr<PairChunk> queued_ = std::make_unique<PairChunk>();
};

}  // namespace saggar
