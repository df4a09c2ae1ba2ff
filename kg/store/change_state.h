// What a change has gathered so far. Private to change*.cpp.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "kg/store/background.h"
#include "kg/store/change.h"
#include "kg/store/content_map.h"
#include "kg/store/database.h"
#include "kg/store/index_rows.h"
#include "kg/store/name_table.h"
#include "kg/store/overflow.h"
#include "kg/store/pending_fields.h"
#include "kg/store/snapshot.h"
#include "kg/store/sorted_runs.h"

namespace saggar {

struct TextHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const noexcept { return std::hash<std::string_view>{}(text); }
};

struct Change::State {
    State(std::shared_ptr<Database> database, ChangeHead change_head, std::filesystem::path incoming_folder);

    // --- names
    EntityId intern(std::string_view key) { return intern(entities.probe(key)); }  // makes a bare entity where the key is new
    EntityId intern(const NameTable::Probe& key);
    RelationId intern_relation(std::string_view name);

    // --- writing
    // A key of a family that is not derived (index_rows.h).
    void emit(std::string_view key, std::string_view value);
    // Hands what `queue` holds to the sorting thread where it is enough.
    void pass_on_queue();
    // Gives the sorting thread what is left to derive. Nothing is emitted afterwards.
    void close_indexes();
    using Families = std::vector<std::pair<char, SortedRuns*>>;
    // For writing them: those emitted here, and those derived by the sorting thread, for which the second call waits.
    Families own_families();
    Families derived_families();

    // --- memory
    // This state, relieved of what it looks up where that takes more than its budget. To be called between records: what find() gave
    // is no longer there afterwards.
    State& relieved() {
        if (lookup_bytes() > head.lookup_budget) spill_lookups();
        return *this;
    }
    std::size_t lookup_bytes() const {
        return claims.bytes() + records.bytes() + entities.bytes() + entities_again.bytes() + entity_fields.bytes() + source_fields.bytes() + overwritten_bytes;
    }
    void spill_lookups();

    // --- looking
    struct PendingClaim {
        ClaimRef ref;
        std::uint32_t next_ordinal = 1;
    };
    // A claim put in this change or asked for before; nothing where it is neither. It stays where it is until the next insert.
    PendingClaim* pending_claim(const ContentId& id);
    const PendingClaim* pending_claim(const ContentId& id) const { return const_cast<State*>(this)->pending_claim(id); }
    // Evidence, a list, an argument or a ruling put in this change.
    std::optional<RecordPlace> pending_record(const ContentId& id) const;
    // The number of a name of this change or of the graph; 0 where it is new.
    EntityId known_name(const NameTable::Probe& key);
    // A value written in this change.
    std::optional<std::string> rewritten(const std::string& key) const;
    void remember(const std::string& key, std::string value);
    // Where a content id lies, put in this change or before.
    std::optional<RecordPlace> place_of(const ContentId& id) const;
    // The same where it is known to be evidence, or else no claim: saves a look-up.
    std::optional<RecordPlace> place_of_evidence(const ContentId& id) const;
    // Where it lies in the graph without this change.
    std::optional<RecordPlace> place_before(const ContentId& id) const;
    // The claim a record speaks of; UsageFault where it is not in force. `ordinal`: where to count its evidence, if
    // asked for.
    ClaimRef need_claim(const ContentId& id, std::uint32_t** ordinal = nullptr);
    // A value written in this change, else the stored one.
    std::optional<std::string> stored(const std::string& key) const;
    // Puts a withdrawn record in force again; the new value replaces the old.
    void overwrite(const std::string& key, std::string value);

    // Whether a record of this change has been withdrawn by a later entry of the same change.
    bool withdrawn(const std::string& key) const;
    // Whether it is not in force, in this change or before: of a claim that was only spoken of, nothing else tells.
    bool withdrawn_by_now(const std::string& key) const;
    // Sets who makes the entry, when and why.
    void begin(const ChangeHead& change_head);
    // Writes the versions and the entry made so far.
    void finish_entry();
    Entry commit();

    std::shared_ptr<Database> db;
    ChangeHead head;
    std::filesystem::path incoming;
    Entry entry;  // the one being made
    std::uint64_t next_entity = 1;
    std::uint64_t next_claim = 1;
    std::uint64_t next_record = 1;
    bool fresh = false;  // the graph holds no claims and no entities: nothing to look up
    bool spent = false;
    bool following = false;  // several new entries in one change, behind those of the graph (follow_with); replaying is set too
    bool of_withdrawn = false;  // records may speak of withdrawn claims
    bool touched = false;    // marks of records were changed, which no count tells
    bool replaying = false;  // several entries in one change: rows are remembered so that later entries can change them

    Overflow overflow;  // of what follows: see change_spill.cpp
    NameTable entities;        // made in this change
    NameTable entities_again;  // found in the overflow or the graph
    std::unordered_map<std::string, RelationId, TextHash, std::equal_to<>> relations;
    PendingFields entity_fields;  // new versions
    PendingFields source_fields;
    std::uint64_t first_new_entity = 1;
    ContentMap<PendingClaim> claims;  // put in this change, or in the graph and asked for
    std::unordered_set<ContentId> private_claims;   // put in this change, and so marked
    std::unordered_set<ContentId> private_records;  // evidence, lists, arguments, rulings likewise
    ContentMap<RecordPlace> records;  // evidence, lists, arguments, rulings put in this change
    std::unordered_map<std::string, std::string> overwritten;
    std::size_t overwritten_bytes = 0;
    bool has_document = false;
    std::map<char, std::unique_ptr<SortedRuns>> runs;  // by key family
    IndexQueue queue;
    IndexRows indexes;   // of the sorting thread, until derived_families()
    Background sorting;  // goes before what it works on
};

}  // namespace saggar
