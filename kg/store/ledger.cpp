#include "kg/store/ledger.h"

#include <algorithm>
#include <tuple>
#include <vector>

#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

enum class What : std::uint8_t { document, entity, source, claim, evidence, list, argument, ruling };

// One record coming into force in one entry.
struct Event {
    std::uint64_t entry = 0;
    What what = What::document;
    std::uint64_t age = 0;
    std::uint64_t second = 0;
    std::string key;
    bool operator<(const Event& other) const {
        return std::tie(entry, what, age, second, key) <
               std::tie(other.entry, other.what, other.age, other.second, other.key);
    }
};

class Collector {
public:
    Collector(const Database& database, std::uint64_t from, std::uint64_t to)
        : database_(database), from_(from), to_(to) {}

    std::vector<Event> collect() {
        documents("v");
        documents("q");
        versions("e", What::entity);
        versions("s", What::source);
        for_prefix(database_, "c", [&](std::string_view key, std::string_view value) {
            Bytes bytes(key.substr(1));
            const ClaimRef ref = keys::read_claim(bytes);
            if (bytes.at_end()) {
                spans(What::claim, ref.number, 0, key, value);
            } else {
                spans(What::evidence, ref.number, bytes.big32(), key, value);
            }
            return true;
        });
        numbered("l", What::list);
        numbered("a", What::argument);
        numbered("r", What::ruling);
        std::sort(events_.begin(), events_.end());
        return std::move(events_);
    }

private:
    bool wanted(std::uint64_t entry) const { return entry >= from_ && entry <= to_; }

    void documents(std::string_view family) {
        for_prefix(database_, family, [&](std::string_view key, std::string_view) {
            const std::uint64_t entry = Bytes(key.substr(1)).big64();
            if (wanted(entry))
                events_.push_back(Event{entry, What::document, family == "v" ? 0u : 1u, 0, std::string(key)});
            return true;
        });
    }
    void versions(std::string_view family, What what) {
        for_prefix(database_, family, [&](std::string_view key, std::string_view value) {
            for (const auto& [since, fields] : decode_versions(value))
                if (wanted(since))
                    events_.push_back(Event{since, what, Bytes(key.substr(1)).big64(), 0, std::string(key)});
            return true;
        });
    }
    void spans(What what, std::uint64_t age, std::uint64_t second, std::string_view key, std::string_view value) {
        for (const Span& span : read_spans(value))
            if (wanted(span.since)) events_.push_back(Event{span.since, what, age, second, std::string(key)});
    }
    void numbered(std::string_view family, What what) {
        for_prefix(database_, family, [&](std::string_view key, std::string_view value) {
            spans(what, Bytes(key.substr(key.size() - 8)).big64(), 0, key, value);
            return true;
        });
    }

    const Database& database_;
    std::uint64_t from_;
    std::uint64_t to_;
    std::vector<Event> events_;
};

class Teller {
public:
    Teller(const Snapshot& snapshot, const Database& database, LedgerVisitor& visitor)
        : snapshot_(snapshot), database_(database), visitor_(visitor) {}

    void tell(const Event& event) {
        const std::string value = database_.get(event.key).value_or("");
        Bytes bytes(std::string_view(event.key).substr(1));
        std::string_view fields;
        switch (event.what) {
            case What::document:
                visitor_.document(event.key[0] == 'v' ? "vocabulary" : "profile", value);
                return;
            case What::entity: {
                Entity entity;
                version_at(value, event.entry, fields);
                decode(fields, entity);
                return visitor_.record(entity);
            }
            case What::source: {
                Source source;
                version_at(value, event.entry, fields);
                decode(fields, source);
                return visitor_.record(source);
            }
            case What::claim: {
                ClaimRow row;
                row.ref = keys::read_claim(bytes);
                decode(value, row);
                return visitor_.record(snapshot_.to_record(row));
            }
            case What::evidence: {
                EvidenceRow row;
                row.claim = keys::read_claim(bytes);
                decode(value, row);
                return visitor_.record(snapshot_.to_record(row, snapshot_.content_of(row.claim)));
            }
            case What::list: {
                ListingRow row;
                row.subject.value = bytes.big64();
                row.relation.value = bytes.big32();
                decode(value, row);
                return visitor_.record(snapshot_.to_record(row));
            }
            case What::argument: {
                ArgumentRow row;
                row.conclusion = keys::read_claim(bytes);
                decode(value, row);
                return visitor_.record(snapshot_.to_record(row));
            }
            case What::ruling: {
                RulingRow row;
                row.claim = keys::read_claim(bytes);
                decode(value, row);
                return visitor_.record(snapshot_.to_record(row));
            }
        }
    }

private:
    const Snapshot& snapshot_;
    const Database& database_;
    LedgerVisitor& visitor_;
};

}  // namespace

void read_ledger(const Snapshot& snapshot, std::uint64_t from, std::uint64_t to, LedgerVisitor& visitor) {
    const Database& database = snapshot.database();
    const std::vector<Event> events = Collector(database, from, std::min(to, snapshot.entry())).collect();
    Teller teller(snapshot, database, visitor);
    auto event = events.begin();
    for (const Entry& entry : snapshot.history(from, to)) {
        visitor.entry(entry);
        for (; event != events.end() && event->entry == entry.number; ++event) teller.tell(*event);
        for (const Withdrawal& withdrawal : entry.withdrawals) visitor.record(withdrawal);
    }
}

void read_all_records(const Snapshot& snapshot, LedgerVisitor& visitor) {
    const Database& database = snapshot.database();
    Teller teller(snapshot, database, visitor);
    for (const Event& event : Collector(database, 1, database.number("last-entry")).collect()) teller.tell(event);
}

}  // namespace saggar
