// Names, and the records of one entity or claim. Whole-graph passes are in snapshot_scan.cpp.
#include "kg/store/snapshot.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/store/keys.h"
#include "kg/store/private_marks.h"
#include "kg/store/row_codec.h"
#include "kg/store/snapshot_state.h"
#include "kg/store/table_families.h"

namespace saggar {
namespace {

// The document (vocabulary or profile) that held at an entry.
std::string document_at(const Database& database, char family, std::uint64_t entry) {
    std::string text;
    for_prefix(database, std::string_view(&family, 1), [&](std::string_view key, std::string_view value) {
        if (Bytes(key.substr(1)).big64() > entry) return false;
        text = value;
        return true;
    });
    return text;
}

// One vocabulary is parsed once per process, however many snapshots use it.
std::shared_ptr<const Vocabulary> parsed_vocabulary(const std::string& text) {
    if (text == Vocabulary::standard().document()) {
        return std::shared_ptr<const Vocabulary>(&Vocabulary::standard(), [](const Vocabulary*) {});
    }
    Problems problems;
    auto vocabulary = Vocabulary::parse(text, problems);
    if (!vocabulary)
        throw StoreFault("the vocabulary stored with the graph cannot be read",
                         "restore the last backup with `saggar restore`");
    return std::make_shared<const Vocabulary>(std::move(*vocabulary));
}

std::string join(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

}  // namespace

Snapshot::Snapshot(std::shared_ptr<Database> db, std::uint64_t entry)
    : db_(std::move(db)), state_(std::make_unique<State>()), entry_(entry) {
    entity_bound_ = std::max<std::uint64_t>(1, db_->number("next-entity"));
    claim_bound_ = std::max<std::uint64_t>(1, db_->number("next-claim"));
    vocabulary_text_ = document_at(*db_, 'v', entry_);
    profile_text_ = document_at(*db_, 'q', entry_);
    vocabulary_ = parsed_vocabulary(vocabulary_text_);
    relation_names_.resize(1);
    for_prefix(*db_, "n", [&](std::string_view key, std::string_view value) {
        const std::uint32_t id = Bytes(value).big32();
        if (id >= relation_names_.size()) relation_names_.resize(id + 1);
        relation_names_[id] = key.substr(1);
        state_->relation_ids.emplace(key.substr(1), RelationId{id});
        return true;
    });
}

Snapshot::~Snapshot() = default;

rocksdb::Iterator& Snapshot::State::cursor(std::unique_ptr<rocksdb::Iterator>& at, const Database& database,
                                            char family) {
    if (!at) at.reset(database.db->NewIterator(within_family(family)));
    return *at;
}

std::optional<EntityId> Snapshot::find(std::string_view key) const {
    const auto value = db_->get(keys::keyed(key));
    if (!value) return std::nullopt;
    const EntityId id{Bytes(*value).big64()};
    const auto versions = db_->get(keys::entity(id));
    std::string_view fields;
    if (!versions || !version_at(*versions, entry_, fields)) return std::nullopt;
    return id;
}

EntityId Snapshot::need(std::string_view key) const {
    if (const auto id = find(key)) return *id;
    const auto parts = split_key(key);
    if (!parts)
        throw UsageFault(fmt::format("\"{}\" is not a key", key),
                         "keys look like kind:slug, for example shape:lantern");
    std::vector<std::string> near = keys_with_prefix(key.substr(0, std::min(key.size(), parts->kind.size() + 4)), 50);
    PrivateMarks marks(*this);  // a message must not tell what is private
    std::erase_if(near, [&](const std::string& one) { return marks.is_hidden(*find(one)); });
    if (near.size() > 5) near.resize(5);
    throw UsageFault(
        fmt::format("the graph knows no {}", key),
        near.empty() ? fmt::format("look for it with `saggar find {}`", parts->slug) : "near keys: " + join(near));
}

const std::string& Snapshot::key_of(EntityId id) const {
    auto& known = state_->keys;
    const auto at = known.find(id.value);
    if (at != known.end()) return at->second;
    std::string key;
    if (const auto value = db_->get(keys::entity(id))) {
        std::string_view fields;
        // The key is the same in every version; take the last one even for an older entry.
        if (version_at(*value, ~std::uint64_t{0}, fields)) key = Bytes(fields).text();
    }
    return known.emplace(id.value, std::move(key)).first->second;
}

std::string_view Snapshot::kind_of(EntityId id) const {
    const std::string& key = key_of(id);
    return std::string_view(key).substr(0, key.find(':'));
}

std::string Snapshot::label_of(EntityId id) const {
    if (const auto found = entity(id); found && !found->label.text.empty()) return found->label.text;
    if (const auto found = source(id); found && !found->title.empty()) return found->title;
    return key_of(id);
}

RelationId Snapshot::relation_id(std::string_view name) const {
    const auto at = state_->relation_ids.find(std::string(name));
    return at == state_->relation_ids.end() ? RelationId{} : at->second;
}

const std::string& Snapshot::relation_name(RelationId id) const {
    return relation_names_.at(id.value);
}

std::vector<std::string> Snapshot::keys_with_prefix(std::string_view prefix, std::size_t most) const {
    std::vector<std::string> found;
    for_prefix(*db_, keys::keyed(prefix), [&](std::string_view key, std::string_view value) {
        const auto versions = db_->get(keys::entity(EntityId{Bytes(value).big64()}));
        std::string_view fields;
        if (versions && version_at(*versions, entry_, fields)) found.emplace_back(key.substr(1));
        return found.size() < most;
    });
    return found;
}

std::optional<Entity> Snapshot::entity(EntityId id) const {
    const auto value = db_->get(keys::entity(id));
    std::string_view fields;
    if (!value || !version_at(*value, entry_, fields)) return std::nullopt;
    Entity entity;
    decode(fields, entity);
    return entity;
}

std::optional<Source> Snapshot::source(EntityId id) const {
    const auto value = db_->get(keys::source(id));
    std::string_view fields;
    if (!value || !version_at(*value, entry_, fields)) return std::nullopt;
    Source source;
    decode(fields, source);
    return source;
}

// Reads claims and evidence that begin with `prefix`, in order; a claim's evidence follows it.
std::vector<ClaimWithEvidence> Snapshot::State::read_claims(const Database& database, std::string_view prefix,
                                                            std::uint64_t entry) {
    std::vector<ClaimWithEvidence> found;
    bool keeping = false;
    auto& at = claims_cursor(database);
    for (at.Seek(slice(prefix)); at.Valid() && at.key().starts_with(slice(prefix)); at.Next()) {
        const std::string_view key = view(at.key());
        Bytes bytes(key.substr(1));
        const ClaimRef ref = keys::read_claim(bytes);
        if (bytes.at_end()) {
            keeping = value_in_force(view(at.value()), entry);
            if (!keeping) continue;
            found.emplace_back();
            found.back().claim.ref = ref;
            decode(view(at.value()), found.back().claim);
        } else if (keeping && value_in_force(view(at.value()), entry)) {
            found.back().evidence.emplace_back();
            EvidenceRow& row = found.back().evidence.back();
            row.claim = ref;
            row.ordinal = bytes.big32();
            decode(view(at.value()), row);
        }
    }
    require(at.status(), "read the graph");
    return found;
}

std::vector<ClaimWithEvidence> Snapshot::claims_of(EntityId subject) const {
    return state_->read_claims(*db_, keys::claims(subject), entry_);
}

std::vector<ClaimWithEvidence> Snapshot::claims_of(EntityId subject, RelationId relation) const {
    if (!relation) return {};
    return state_->read_claims(*db_, keys::claims(subject, relation), entry_);
}

std::optional<ClaimWithEvidence> Snapshot::claim(ClaimRef ref) const {
    auto found = state_->read_claims(*db_, keys::claim(ref), entry_);
    if (found.empty()) return std::nullopt;
    return std::move(found.front());
}

// Evidence named by keys that begin with `prefix` and go on with claim and ordinal.
std::vector<EvidenceRow> Snapshot::evidence_behind(const std::string& prefix) const {
    std::vector<EvidenceRow> found;
    for_prefix(*db_, prefix, [&](std::string_view key, std::string_view) {
        Bytes bytes(key.substr(prefix.size()));
        EvidenceRow row;
        row.claim = keys::read_claim(bytes);
        row.ordinal = bytes.big32();
        const auto claim = db_->get(keys::claim(row.claim));
        const auto value = db_->get(keys::evidence(row.claim, row.ordinal));
        if (claim && value && value_in_force(*claim, entry_) && value_in_force(*value, entry_)) {
            decode(*value, row);
            found.push_back(std::move(row));
        }
        return true;
    });
    return found;
}

std::vector<EvidenceRow> Snapshot::evidence_from(EntityId source) const { return evidence_behind(keys::by_source(source)); }

std::vector<EvidenceRow> Snapshot::corrections_of(const ContentId& evidence) const {
    return any_corrections() ? evidence_behind(keys::corrections(evidence)) : std::vector<EvidenceRow>{};
}

bool Snapshot::any_corrections() const { return any_in_family('z'); }
bool Snapshot::any_listings() const { return any_in_family('l'); }
bool Snapshot::any_arguments() const { return any_in_family('a'); }

bool Snapshot::any_in_family(char family) const {
    const auto known = state_->families.find(family);
    if (known != state_->families.end()) return known->second;
    bool any = false;
    for_prefix(*db_, std::string_view(&family, 1), [&](std::string_view, std::string_view) {
        any = true;
        return false;
    });
    return state_->families[family] = any;
}

std::optional<RecordPlace> Snapshot::place_of(const ContentId& id) const {
    const auto value = db_->get(keys::content(id));
    if (!value) return std::nullopt;
    return decode_place(*value);
}

std::optional<ClaimRef> Snapshot::find_claim(const ContentId& id) const {
    const auto place = place_of(id);
    if (!place || place->type != RecordPlace::Type::claim) return std::nullopt;
    const auto value = db_->get(keys::claim(place->claim));
    if (!value || !value_in_force(*value, entry_)) return std::nullopt;
    return place->claim;
}

ContentId Snapshot::content_of(ClaimRef ref) const {
    const auto value = db_->get(keys::claim(ref));
    if (!value) throw StoreFault("a claim of the graph is missing", "run `saggar check`");
    ClaimRow row;
    decode(*value, row);
    return row.id;
}

}  // namespace saggar
