// The end of a merge: takes their records one by one, in our words, and puts what is new here. Private to merge.cpp.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "importers/merge/merge.h"
#include "importers/sink.h"
#include "kg/weigh/copying_check.h"
#include "kg/weigh/rule_engine.h"

namespace saggar {

class MergeSink final : public Sink {
public:
    // All versions of their descriptions by key, the oldest first.
    struct Descriptions {
        std::map<std::string, std::vector<Entity>> entities;
        std::map<std::string, std::vector<Source>> sources;
    };
    struct Into {
        Store& store;
        const Snapshot& before;
        Change& change;
        const Vocabulary& vocabulary;
        const std::string& name;
        const MergeOptions& options;
        MergeReport& report;
    };

    MergeSink(Into into, Descriptions descriptions);

    void put(Record record, const Origin& origin) override;
    void begin_entry(EntryHeader entry, const Origin& origin) override;
    // What the vocabulary's rules make of their claims and ours together, and the end of the report.
    void finish();

private:
    void take(const Entity& entity);
    void take(const Source& source);
    void take(const Claim& claim);
    void take(const Evidence& evidence) { take_recorded(evidence); }
    void take(const Listing& listing) { take_recorded(listing); }
    void take(const Argument& argument) { take_recorded(argument); }
    void take(const Ruling& ruling);
    void take(const Withdrawal& withdrawal);
    template <typename Recorded>
    void take_recorded(const Recorded& record);
    // Their next turn of a record; false where ours has gone as far.
    bool goes_further(const ContentId& id);
    void known(const ContentId& id, bool is_private);
    void add_counts();
    void report_rulings();

    Into into_;
    Descriptions theirs_;
    std::map<std::string, std::size_t> taken_;  // versions met so far, by key and kind of description
    std::unordered_map<ContentId, std::uint64_t> turns_;  // of their records, so far
    std::set<ContentId> maybe_still_withdrawn_;
    std::map<ContentId, std::vector<RulingRow>> new_rulings_;  // by claim
    CopyingCheck copying_;
    RuleEngine rules_;
    Entry::Counts added_;
};

}  // namespace saggar
