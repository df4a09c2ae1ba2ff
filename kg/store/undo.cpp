#include "kg/store/undo.h"

#include <algorithm>
#include <map>
#include <set>
#include <vector>

#include "kg/model/fault.h"
#include "kg/store/ledger.h"
#include "kg/store/versions.h"

namespace saggar {
namespace {

// What the entries did, in their order.
class Done : public LedgerVisitor {
public:
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit([this](const auto& one) { note(one); }, record);
    }
    std::vector<ContentId> put, withdrawn;
    std::set<std::string> entities, sources;

private:
    void note(const Entity& one) { entities.insert(one.key); }
    void note(const Source& one) { sources.insert(one.key); }
    void note(const Withdrawal& one) { withdrawn.push_back(one.of); }
    template <typename One>
    void note(const One& one) {
        put.push_back(id_of(one));
    }
};

// Records by id, as they were put in an entry.
class Finder : public LedgerVisitor {
public:
    explicit Finder(std::map<ContentId, std::uint64_t> wanted) : wanted_(std::move(wanted)) {}
    void entry(const Entry& entry) override { entry_ = entry.number; }
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit(
            [&](const auto& one) {
                using One = std::decay_t<decltype(one)>;
                if constexpr (!std::is_same_v<One, Entity> && !std::is_same_v<One, Source> && !std::is_same_v<One, Withdrawal>) {
                    const auto found = wanted_.find(id_of(one));
                    if (found != wanted_.end() && found->second == entry_) records.push_back(record);
                }
            },
            record);
    }
    std::vector<Record> records;  // in the order of the ledger, so claims come before what names them

private:
    std::map<ContentId, std::uint64_t> wanted_;
    std::uint64_t entry_ = 0;
};

template <typename Described>
bool describe_as_before(Change& change, const std::vector<std::pair<std::uint64_t, Described>>& versions, const std::string& key,
                        std::uint64_t from, std::uint64_t to) {
    if (versions.empty() || versions.back().first < from || versions.back().first > to) return false;
    Described before;
    before.key = key;
    for (const auto& [since, version] : versions)
        if (since < from) before = version;
    return change.replace(before) != Put::already_there;
}

}  // namespace

Undone undo_entries(const Store& store, Change& change, std::uint64_t from, std::uint64_t to, const std::string& reason) {
    if (from == 0 || from > to || to > store.last_entry())
        throw UsageFault("there are no entries " + std::to_string(from) + " to " + std::to_string(to),
                         "the history runs from 1 to " + std::to_string(store.last_entry()));
    const auto now = store.snapshot();
    Done done;
    read_ledger(*now, from, to, done);
    Undone undone;
    const auto within = [&](std::uint64_t entry) { return entry >= from && entry <= to; };
    std::map<ContentId, std::uint64_t> again;
    std::set<ContentId> touched(done.put.begin(), done.put.end());
    touched.insert(done.withdrawn.begin(), done.withdrawn.end());
    std::vector<ContentId> backwards(done.put.rbegin(), done.put.rend());  // what names a claim before the claim
    backwards.insert(backwards.end(), done.withdrawn.begin(), done.withdrawn.end());
    for (const ContentId& id : backwards) {
        if (touched.erase(id) == 0) continue;
        const Spans spans = now->spans_of(id);
        if (spans.empty()) continue;
        const Span& last = spans.back();
        const bool was = in_force(spans, from - 1), is = last.until == 0;
        if (!within(is ? last.since : last.until)) {
            undone.already += !is;  // changed again since
        } else if (is && !was) {
            change.put(Withdrawal{id, reason});
            ++undone.withdrawn;
        } else if (was && !is) {
            again[id] = last.since;
        }
    }
    if (!again.empty()) {
        std::uint64_t first = again.begin()->second, last = first;
        for (const auto& one : again) {
            first = std::min(first, one.second);
            last = std::max(last, one.second);
        }
        change.speak_of_withdrawn();
        Finder finder(again);
        read_ledger(*now, first, last, finder);
        // Claims first: what is said of a claim may have been put in an earlier entry than the claim was last put in.
        for (const bool claims : {true, false})
            for (const Record& record : finder.records)
                if (std::holds_alternative<Claim>(record) == claims) {
                    change.put(record);
                    ++undone.put_again;
                }
    }
    for (const std::string& key : done.entities)
        if (const auto id = now->find(key)) undone.described_as_before += describe_as_before(change, entity_versions(*now, *id), key, from, to);
    for (const std::string& key : done.sources)
        if (const auto id = now->find(key)) undone.described_as_before += describe_as_before(change, source_versions(*now, *id), key, from, to);
    return undone;
}

}  // namespace saggar
