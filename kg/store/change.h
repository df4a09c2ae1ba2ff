// One change to the graph: records are put, then committed in one atomic step with their history entry.
//
// Small changes go through one synced write batch; large ones are sorted (spilling to disk beyond a memory budget) and
// ingested as table files in one atomic step, ten times as fast. Nothing is visible before commit(), and a process
// killed at any moment leaves either everything or nothing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "kg/model/record.h"
#include "kg/store/rows.h"

namespace saggar {

struct Database;

struct ChangeHead {
    std::string verb;
    std::string author;
    std::string reason;
    std::string time;                        // ISO 8601, UTC
    std::optional<ContentId> file_digest;    // of a load: remembered, so that a repeated load is told
    std::size_t bulk_above = 20'000;         // key-value pairs beyond which table files are ingested
    std::size_t memory_budget = 320u << 20;  // bytes for pairs in memory before they spill to disk
    std::size_t lookup_budget = 384u << 20;  // bytes for what a change looks up again in itself before that spills
};

// What a put did.
enum class Put : std::uint8_t { added, changed, already_there };

class Change {
public:
    Change(Change&&) noexcept;
    Change& operator=(Change&&) noexcept;
    ~Change();  // without commit: nothing happened

    // Records must be sound (see importers/checked_sink.h); keys mentioned and not yet known become entities without a
    // label. Entities and sources: fields that are not empty replace, lists are united. Evidence, arguments and rulings
    // name claims that are in the graph or were put before; UsageFault otherwise. A withdrawal names any record;
    // UsageFault where it is not in force.
    Put put(const Record& record);
    Put put(const Entity& entity);
    Put put(const Source& source);
    Put put(const Claim& claim);
    Put put(const Evidence& evidence);
    Put put(const Listing& listing);
    Put put(const Argument& argument);
    Put put(const Ruling& ruling);
    Put put(const Withdrawal& withdrawal);
    // Replaces all fields, also with empty ones.
    Put replace(const Entity& entity);
    Put replace(const Source& source);

    // Replaces the vocabulary or the profile ("vocabulary", "profile") from this entry on.
    void put_document(std::string_view name, const std::string& text);

    // Replays a recorded history into a graph that has none but its start: what follows belongs to entry `number`,
    // which must be the next one (the first call may rewrite entry 1). UsageFault otherwise. All entries are committed
    // in one step.
    void begin_entry(const ChangeHead& head, std::uint64_t number);

    // What follows belongs to a further entry of the same change; all of them are committed in one step. Where nothing
    // has been put since the last one, no entry is made of it. From the first call on, records may speak of withdrawn claims.
    void follow_with(const ChangeHead& head);
    // How many times the record was put and withdrawn so far, counting this change: odd, it is in force; 0, unknown.
    // Only right after the first follow_with.
    std::uint64_t turns_of(const ContentId& id) const;

    // From here on records may speak of withdrawn claims, as restored ones do.
    void speak_of_withdrawn();

    // The marks of a record that are not part of what it says, and so hold for all its past. False where nothing changed.
    // A record marked private becomes public; put() does so too where the same record is put again without the mark.
    bool make_public(const ContentId& id);
    // Of a reading, a list or an argument: somebody else recorded it too (kg/model/recorders.h).
    bool recorded_also(const ContentId& id, const std::string& by, const std::string& on);

    // Whether the claim is in force or has been put in this change.
    bool has_claim(const ContentId& id) const;
    // What has been put so far (new or changed only).
    const Entry::Counts& counts() const;

    // Writes everything; the entry made, or the latest one where there was nothing to change.
    // StoreFault on a full disk or the like: then nothing has changed. The Change is spent afterwards.
    Entry commit();

    struct State;

private:
    friend class Store;
    Change(std::shared_ptr<Database> db, ChangeHead head, std::filesystem::path incoming);
    std::unique_ptr<State> state_;
};

}  // namespace saggar
