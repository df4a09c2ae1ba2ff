// The history as it was written: every entry with the records it put, in the order that replays it.
//
// Within an entry: documents, entities, sources, claims, evidence, lists, arguments, rulings, withdrawals; each kind by
// age. Replaying the ledger into an empty graph gives the same graph. Cost: one pass over the graph, about 60 bytes a
// record.
#pragma once

#include <cstdint>
#include <string>

#include "kg/store/snapshot.h"

namespace saggar {

class LedgerVisitor {
public:
    virtual ~LedgerVisitor() = default;
    virtual void entry(const Entry& entry) = 0;
    virtual void document(const std::string& name, const std::string& text) = 0;  // "vocabulary" or "profile"
    virtual void record(const Record& record) = 0;
};

// Visits entries `from` to `to`, both included, as far as the snapshot knows them.
void read_ledger(const Snapshot& snapshot, std::uint64_t from, std::uint64_t to, LedgerVisitor& visitor);
// All records of the graph, also those that came after the snapshot's entry; no entries and no withdrawals.
void read_all_records(const Snapshot& snapshot, LedgerVisitor& visitor);

}  // namespace saggar
