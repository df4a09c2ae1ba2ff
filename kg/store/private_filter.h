// What may leave the graph: records without the private ones, and without what would name them.
//
// The filter sees all records twice. First note() each, in any order: what is marked private at the end is private for
// all its past. Then pass() each, in the order of the ledger. A claim that is known from private readings and arguments
// alone is private too; kg/store/private_marks.h has the rule. Cost: about 40 bytes a claim and 20 a reading.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <unordered_set>
#include <vector>

#include "kg/model/record.h"

namespace saggar {

// Whether the reason of an entry is about the records it brought, so that it is as private as they are. The reason of a load
// names a file.
bool speaks_of_its_records(const std::string& verb, const std::string& reason);

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
        std::size_t source = 0;
    };
    struct NotedClaim {
        ContentId id;
        std::size_t subject = 0, object = 0, scope = 0;
        bool is_marked = false;
    };
    struct Inference {  // not marked private itself
        ContentId conclusion;
        std::vector<ContentId> premises;
    };
    void settle();
    void settle_conclusions();
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
    std::unordered_set<std::size_t> key_hashes_;
    std::unordered_set<ContentId> ids_;
    std::vector<NotedClaim> claims_;
    std::vector<OpenReading> open_readings_;
    std::vector<Inference> inferences_;
    std::unordered_set<ContentId> spoken_of_;    // claims with readings or arguments
    std::unordered_set<ContentId> openly_read_;  // claims with a reading or an argument that may leave
    bool settled_ = false;
    std::size_t kept_back_ = 0;
};

}  // namespace saggar
