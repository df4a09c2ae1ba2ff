#include "kg/store/change_state.h"

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

// Claims are numbered as they arrive, so behind subject and relation the order is there already.
KeyShape claim_shape(char family) {
    if (family != 'c') return {};
    return {{4, 5, 6, 7, 8, 11, 12, 16, 17, 18, 19, 20, 22, 23, 24}, 7};  // subject relation | number ordinal
}

}  // namespace

Change::State::State(std::shared_ptr<Database> database, ChangeHead change_head, std::filesystem::path incoming_folder)
    : db(std::move(database)), head(std::move(change_head)), incoming(std::move(incoming_folder)),
      overflow(incoming / "lookups"), entity_fields(overflow, 'E'), source_fields(overflow, 'S'),
      indexes(incoming, head.memory_budget) {
    entry.number = db->number("last-entry") + 1;
    begin(head);
    next_entity = std::max<std::uint64_t>(1, db->number("next-entity"));
    next_claim = std::max<std::uint64_t>(1, db->number("next-claim"));
    next_record = std::max<std::uint64_t>(1, db->number("next-record"));
    first_new_entity = next_entity;
    entity_fields.set_first_new(next_entity);
    source_fields.set_first_new(next_entity);
    fresh = next_entity == 1 && next_claim == 1;
    for_prefix(*db, "n", [this](std::string_view key, std::string_view value) {
        relations.emplace(key.substr(1), RelationId{Bytes(value).big32()});
        return true;
    });
}

void Change::State::begin(const ChangeHead& change_head) {
    entry.time = change_head.time;
    entry.author = change_head.author;
    entry.verb = change_head.verb;
    entry.reason = change_head.reason;
}

EntityId Change::State::intern(const NameTable::Probe& key) {
    if (const EntityId known = known_name(key)) return known;
    const EntityId id{next_entity++};
    entities.insert(key.name, id);
    Entity bare;
    bare.key = key.name;
    entity_fields.put(id.value, encode(bare));
    std::string number;
    append_big64(number, id.value);
    emit(keys::keyed(key.name), number);
    return id;
}

RelationId Change::State::intern_relation(std::string_view name) {
    const auto known = relations.find(name);
    if (known != relations.end()) return known->second;
    const RelationId id{static_cast<std::uint32_t>(relations.size() + 1)};
    relations.emplace(name, id);
    std::string value;
    append_big32(value, id.value);
    emit(keys::relation(name), value);
    return id;
}

void Change::State::emit(std::string_view key, std::string_view value) {
    auto& family = runs[key[0]];
    if (!family) {
        const std::size_t budget = budget_of(key[0], head.memory_budget);
        const auto derive = [this](const PairChunk& rows) { indexes.derive(rows); };
        family = std::make_unique<SortedRuns>(incoming, std::string("pairs-") + key[0], budget, claim_shape(key[0]), &sorting,
                                              key[0] == 'c' ? derive : std::function<void(const PairChunk&)>());
    }
    family->add(key, value);
    static constexpr std::string_view changeable = "clares";
    if (replaying && changeable.find(key[0]) != std::string_view::npos) remember(std::string(key), std::string(value));
}

void Change::State::pass_on_queue() {
    if (!queue.full()) return;
    const std::shared_ptr<PairChunk> full = queue.release();
    sorting.give([this, full] { indexes.take(*full); }, full->bytes());
}

void Change::State::close_indexes() {
    if (const auto rows = runs.find('c'); rows != runs.end()) rows->second->show_rest();
    const std::shared_ptr<PairChunk> rest = queue.release();
    if (!rest->empty()) sorting.give([this, rest] { indexes.take(*rest); }, rest->bytes());
}

Change::State::Families Change::State::own_families() {
    Families all;
    for (const auto& [family, pairs] : runs) all.emplace_back(family, pairs.get());
    return all;
}

Change::State::Families Change::State::derived_families() {
    sorting.finish();
    Families all;
    for (const auto& [family, pairs] : indexes.families()) all.emplace_back(family, pairs.get());
    return all;
}

std::optional<RecordPlace> Change::State::place_of(const ContentId& id) const {
    if (const PendingClaim* claim = pending_claim(id)) return RecordPlace{RecordPlace::Type::claim, claim->ref, 0};
    return place_of_evidence(id);
}

std::optional<RecordPlace> Change::State::place_of_evidence(const ContentId& id) const {
    if (const auto record = pending_record(id)) return record;
    return place_before(id);
}

std::optional<RecordPlace> Change::State::place_before(const ContentId& id) const {
    if (fresh) return std::nullopt;
    const auto value = db->get(keys::content(id));
    if (!value) return std::nullopt;
    return decode_place(*value);
}

std::optional<std::string> Change::State::stored(const std::string& key) const {
    if (auto changed = rewritten(key)) return changed;
    if (fresh) return std::nullopt;
    return db->get(key);
}

bool Change::State::withdrawn(const std::string& key) const {
    const auto changed = rewritten(key);
    return changed && !value_in_force(*changed, entry.number);
}

void Change::State::overwrite(const std::string& key, std::string value) {
    emit(key, value);
    remember(key, std::move(value));
}

bool Change::State::withdrawn_by_now(const std::string& key) const {
    const auto value = stored(key);
    return value && !value_in_force(*value, entry.number);
}

ClaimRef Change::State::need_claim(const ContentId& id, std::uint32_t** ordinal) {
    if (PendingClaim* claim = pending_claim(id)) {
        if (!of_withdrawn && withdrawn(keys::claim(claim->ref))) {
            throw UsageFault("the claim " + id.brief() + " has been withdrawn",
                             "record the claim again before its evidence");
        }
        if (ordinal) *ordinal = &claim->next_ordinal;
        return claim->ref;
    }
    const auto place = place_of(id);
    if (!place || place->type != RecordPlace::Type::claim)
        throw UsageFault("there is no claim " + id.brief() + " to speak of", "record the claim before its evidence");
    const auto value = stored(keys::claim(place->claim));
    if (!value || (!of_withdrawn && !value_in_force(*value, entry.number)))
        throw UsageFault("the claim " + id.brief() + " has been withdrawn",
                         "record the claim again before its evidence");
    PendingClaim pending{place->claim, 1};
    const std::string prefix = keys::claim(place->claim);
    for_prefix(*db, prefix, [&](std::string_view key, std::string_view) {
        if (key.size() == prefix.size() + 4) pending.next_ordinal = Bytes(key.substr(prefix.size())).big32() + 1;
        return true;
    });
    PendingClaim& kept = claims.insert(id, pending);
    if (ordinal) *ordinal = &kept.next_ordinal;
    return kept.ref;
}

}  // namespace saggar
