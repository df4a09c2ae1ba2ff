#include "app/outgoing.h"

namespace saggar::app {
namespace {

class Notes final : public LedgerVisitor {
public:
    explicit Notes(PrivateFilter& filter) : filter_(filter) {}
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override { filter_.note(record); }

private:
    PrivateFilter& filter_;
};

// Which entries have a reason that may not be told.
class EntryNotes final : public LedgerVisitor {
public:
    EntryNotes(PrivateFilter& filter, std::set<std::uint64_t>& private_entries) : filter_(filter), private_(private_entries) {}
    void entry(const Entry& entry) override {
        number_ = entry.number;
        open_ = false;
        speaks_ = speaks_of_its_records(entry.verb, entry.reason);
    }
    void document(const std::string&, const std::string&) override { open(); }
    void record(const Record& record) override {
        const std::size_t before = filter_.kept_back();
        if (filter_.pass(record)) open();
        else if ((speaks_ || !open_) && filter_.kept_back() > before) private_.insert(number_);
    }

private:
    void open() {
        open_ = true;
        if (!speaks_) private_.erase(number_);
    }
    PrivateFilter& filter_;
    std::set<std::uint64_t>& private_;
    std::uint64_t number_ = 0;
    bool open_ = false, speaks_ = false;
};

}  // namespace

Outgoing::Outgoing(const Snapshot& graph, LedgerVisitor& next, bool with_private) : next_(next), with_private_(with_private) {
    if (with_private_) return;
    Notes notes(filter_);
    read_all_records(graph, notes);  // what is marked private by now was private at every entry
    EntryNotes entries(filter_, private_entries_);
    read_ledger(graph, 1, graph.entry(), entries);
}

void Outgoing::entry(const Entry& entry) {
    if (private_entries_.count(entry.number) == 0) return next_.entry(entry);
    Entry one = entry;
    one.reason = "private";
    next_.entry(one);
}

void Outgoing::record(const Record& record) {
    if (with_private_) return next_.record(record);
    const std::size_t before = filter_.kept_back();
    if (const auto open = filter_.pass(record)) return next_.record(*open);
    left_out_ += filter_.kept_back() - before;
}

}  // namespace saggar::app
