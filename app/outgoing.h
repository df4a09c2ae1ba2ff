// What of the history may leave the graph: everything, or everything that is not private.
//
// Private records, and whatever would name them, stay out. What is marked private now stays out also where it was recorded before it
// was marked. Memory: the keys and ids that stay out.
#pragma once

#include <string>
#include <unordered_set>

#include "kg/store/ledger.h"

namespace saggar::app {

class Outgoing final : public LedgerVisitor {
public:
    // Passes on to `next`, which must outlive it.
    Outgoing(const Snapshot& graph, LedgerVisitor& next, bool with_private);

    void entry(const Entry& entry) override { next_.entry(entry); }
    void document(const std::string& name, const std::string& text) override { next_.document(name, text); }
    void record(const Record& record) override;

    std::size_t left_out_count() const { return left_out_; }

private:
    bool hide(const ContentId& id);
    bool hidden_key(const std::string& key) const { return !key.empty() && hidden_keys_.count(key) != 0; }
    bool left_out(const Entity& one);
    bool left_out(const Source& one);
    bool left_out(const Claim& one);
    bool left_out(const Evidence& one);
    bool left_out(const Listing& one);
    bool left_out(const Argument& one);
    bool left_out(const Ruling& one);
    bool left_out(const Withdrawal& one);

    LedgerVisitor& next_;
    bool with_private_;
    std::unordered_set<std::string> hidden_keys_;
    std::unordered_set<ContentId> hidden_ids_;
    std::size_t left_out_ = 0;
};

}  // namespace saggar::app
