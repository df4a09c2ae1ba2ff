// The graph as it stood at one entry of its history: everything a question reads goes through here.
//
// Records are never overwritten, they carry the entries between which they were in force; so "as of entry N" is a
// filter, and an answer is consistent even while another process writes. Everything about an entity as subject lies
// side by side (claims with their evidence), so `claims_of` is one seek and one scan.
//
// A Snapshot is used by one thread at a time. It must not outlive its Store. Faults: StoreFault.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/record.h"
#include "kg/store/ids.h"
#include "kg/store/link_choice.h"
#include "kg/store/rows.h"

namespace saggar {

class Vocabulary;
struct Database;

class Snapshot {
public:
    ~Snapshot();
    Snapshot(const Snapshot&) = delete;
    Snapshot& operator=(const Snapshot&) = delete;

    // The entry this snapshot speaks for.
    std::uint64_t entry() const { return entry_; }
    const Vocabulary& vocabulary() const { return *vocabulary_; }
    const std::string& vocabulary_text() const { return vocabulary_text_; }
    const std::string& profile_text() const { return profile_text_; }

    // --- names -------------------------------------------------------------------------------------------------
    std::optional<EntityId> find(std::string_view key) const;
    // As find, but throws UsageFault with near keys where there is none.
    EntityId need(std::string_view key) const;
    const std::string& key_of(EntityId id) const;
    std::string_view kind_of(EntityId id) const;  // view into key_of
    // The label, or the key where nobody has described the entity.
    std::string label_of(EntityId id) const;
    std::uint64_t entity_bound() const { return entity_bound_; }  // ids are below this
    std::uint64_t claim_bound() const { return claim_bound_; }    // claim numbers are below this
    RelationId relation_id(std::string_view name) const;          // {0} where the graph has never used it
    const std::string& relation_name(RelationId id) const;
    std::uint32_t relation_bound() const { return static_cast<std::uint32_t>(relation_names_.size()); }
    // Keys that begin with `prefix`, sorted, at most `most`.
    std::vector<std::string> keys_with_prefix(std::string_view prefix, std::size_t most) const;

    // --- records -----------------------------------------------------------------------------------------------
    std::optional<Entity> entity(EntityId id) const;
    std::optional<Source> source(EntityId id) const;  // nothing where the entity is not a source
    // Claims whose subject is `subject`, with their evidence, in key order (relation, then age).
    std::vector<ClaimWithEvidence> claims_of(EntityId subject) const;
    std::vector<ClaimWithEvidence> claims_of(EntityId subject, RelationId relation) const;
    // Claims whose object is `object`.
    std::vector<ClaimRef> claims_about(EntityId object) const;
    // The claim and its evidence in force; nothing where the claim is not in force at this entry.
    std::optional<ClaimWithEvidence> claim(ClaimRef ref) const;
    // Evidence drawn from a source, in claim order.
    std::vector<EvidenceRow> evidence_from(EntityId source) const;
    // Evidence that takes this evidence back.
    std::vector<EvidenceRow> corrections_of(const ContentId& evidence) const;
    // False: the graph has never held such a record, so that there is nothing to look up. Remembered.
    bool any_corrections() const;
    bool any_listings() const;
    bool any_arguments() const;
    std::vector<ListingRow> listings(EntityId subject, RelationId relation) const;
    std::vector<ListingRow> listings_of(EntityId subject) const;
    std::vector<ArgumentRow> arguments_for(ClaimRef conclusion) const;
    std::vector<ArgumentRow> arguments_from(ClaimRef premise) const;
    std::vector<RulingRow> rulings(ClaimRef claim) const;

    // --- the graph ---------------------------------------------------------------------------------------------
    // Claims between entities that start or end at `id`: forward ones first, each side in key order.
    std::vector<Link> links(EntityId id) const;
    // Replaces `into`; what graph searches use. Literal-valued claims are left out.
    void links(EntityId id, std::vector<Link>& into) const;
    // Only those chosen, in the same order.
    void links(EntityId id, const LinkChoice& choice, std::vector<Link>& into) const;

    // --- content ids -------------------------------------------------------------------------------------------
    std::optional<RecordPlace> place_of(const ContentId& id) const;
    // Resolves "claim:7k3…", "evidence:…", or bare base32 of at least 4 characters, by prefix.
    // Throws UsageFault where it is unknown or ambiguous (listing the candidates).
    ContentId need_id(std::string_view text) const;
    std::optional<ClaimRef> find_claim(const Claim& claim) const { return find_claim(id_of(claim)); }
    std::optional<ClaimRef> find_claim(const ContentId& id) const;
    ContentId content_of(ClaimRef ref) const;  // also of a withdrawn claim
    // When a record was in force, up to this entry; empty where the graph has never held it.
    Spans spans_of(const ContentId& id) const;
    bool is_in_force(const ContentId& id) const { return in_force(spans_of(id), entry_); }

    // --- rows to records (keys in place of numbers) --------------------------------------------------------------
    Claim to_record(const ClaimRow& row) const;
    Evidence to_record(const EvidenceRow& row, const ContentId& claim) const;
    Listing to_record(const ListingRow& row) const;
    Argument to_record(const ArgumentRow& row) const;
    Ruling to_record(const RulingRow& row) const;

    // --- everything, in key order ------------------------------------------------------------------------------
    void each_entity(const std::function<void(EntityId, const Entity&)>& visit) const;
    void each_source(const std::function<void(EntityId, const Source&)>& visit) const;
    void each_claim(const std::function<void(const ClaimWithEvidence&)>& visit) const;
    // Only claims between entities, without evidence; for compact copies of the graph.
    void each_link(const std::function<void(ClaimRef, EntityId object)>& visit) const;
    void each_listing(const std::function<void(const ListingRow&)>& visit) const;
    void each_argument(const std::function<void(const ArgumentRow&)>& visit) const;
    void each_ruling(const std::function<void(const RulingRow&)>& visit) const;

    // --- search and history --------------------------------------------------------------------------------------
    // Where words that begin with `folded` (or are exactly it) occur, in word order, until `visit` returns false.
    void each_word(std::string_view folded, bool whole_word,
                   const std::function<bool(std::string_view word, const FoundWord&)>& visit) const;
    // Every different word of the index that begins with `folded`, in order, until `visit` returns false. One seek a
    // word.
    void each_distinct_word(std::string_view folded, const std::function<bool(std::string_view word)>& visit) const;
    // Entries from..to, both included, those that exist.
    std::vector<Entry> history(std::uint64_t from, std::uint64_t to) const;

    // For the other files of kg/store.
    const Database& database() const { return *db_; }
    struct State;

private:
    friend class Store;
    Snapshot(std::shared_ptr<Database> db, std::uint64_t entry);
    std::vector<EvidenceRow> evidence_behind(const std::string& prefix) const;
    bool any_in_family(char family) const;

    std::shared_ptr<Database> db_;
    std::unique_ptr<State> state_;
    std::uint64_t entry_ = 0;
    std::uint64_t entity_bound_ = 0;
    std::uint64_t claim_bound_ = 0;
    std::shared_ptr<const Vocabulary> vocabulary_;
    std::string vocabulary_text_;
    std::string profile_text_;
    std::vector<std::string> relation_names_;  // by RelationId; [0] is empty
};

}  // namespace saggar
