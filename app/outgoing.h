// What of the history may leave the graph: everything, or everything that is not private (kg/store/private_filter.h).
//
// The reason of an entry that brought private records alone is private too, and so is that of a note, a ruling, an identity or
// a withdrawal that brought one beside others. Cost: two passes over the history before the one
// that writes; memory for the ids of claims and of what stays out.
#pragma once

#include <cstdint>
#include <set>

#include "kg/store/ledger.h"
#include "kg/store/private_filter.h"

namespace saggar::app {

class Outgoing final : public LedgerVisitor {
public:
    // Passes on to `next`, which must outlive it.
    Outgoing(const Snapshot& graph, LedgerVisitor& next, bool with_private);

    void entry(const Entry& entry) override;
    void document(const std::string& name, const std::string& text) override { next_.document(name, text); }
    void record(const Record& record) override;

    // An entry whose reason may not be told; a record that stays out.
    bool is_private_entry(std::uint64_t number) const { return private_entries_.count(number) != 0; }
    bool keeps_back(const Withdrawal& one) const { return !with_private_ && filter_.keeps_back(one); }
    std::size_t left_out_count() const { return left_out_; }

private:
    LedgerVisitor& next_;
    bool with_private_;
    PrivateFilter filter_;
    std::set<std::uint64_t> private_entries_;
    std::size_t left_out_ = 0;
};

}  // namespace saggar::app
