// What may leave the graph: records without the private ones, and without what would name them.
//
// The filter sees all records twice. First note() each, in any order: what is marked private at the end is private for
// all its past. Then pass() each, in the order of the ledger. A claim that is known from private readings alone is
// private too. Cost: memory for the ids of claims and of what is left out.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "kg/model/record.h"

namespace saggar {

class PrivateFilter {
public:
    void note(const Record& record);
    // The record as it may leave, without private sources among those it was copied from; nothing where it may not. A
    // thing that nobody has described does not pass for itself: whatever may leave and names it brings it along, and one that
    // only private records name stays unnamed.
    std::optional<Record> pass(const Record& record);
    // Whether what is withdrawn did not pass, so that the reason may not be told.
    bool keeps_back(const Withdrawal& one) const { return hides(one); }
    // How many private records did not pass.
    std::size_t kept_back() const { return kept_back_; }

private:
    struct OpenReading {  // one that is not marked private itself
        ContentId claim;
        std::uint32_t source = 0;
    };
    void settle();
    bool is_hidden_key(const std::string& key) const { return !key.empty() && keys_.count(key) != 0; }
    bool hides(const Entity& one) const { return is_hidden_key(one.key); }
    bool hides(const Source& one) const { return is_hidden_key(one.key); }
    bool hides(const Claim& one) const;
    bool hides(const Evidence& one) const;
    bool hides(const Listing& one) const;
    bool hides(const Argument& one) const;
    bool hides(const Ruling& one) const;
    bool hides(const Withdrawal& one) const { return ids_.count(one.of) != 0; }

    std::unordered_set<std::string> keys_;
    std::unordered_set<ContentId> ids_;
    std::unordered_map<std::string, std::uint32_t> sources_;
    std::vector<OpenReading> open_readings_;
    std::unordered_set<ContentId> read_;         // claims with readings
    std::unordered_set<ContentId> openly_read_;  // claims with a reading that may leave
    bool settled_ = false;
    std::size_t kept_back_ = 0;
};

}  // namespace saggar
