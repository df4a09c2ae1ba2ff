#include "kg/store/change_state.h"

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

// The claims' own family is the largest by far; the rest share what is left.
std::size_t budget_of(char family, std::size_t whole) {
    switch (family) {
        case 'c':
            return whole * 3 / 8;
        case 'x':
            return whole / 4;
        case 't':
            return whole / 8;
        default:
            return whole / 16;
    }
}

// Keys hold 8-byte numbers of which the low bytes tell (keys.h); entity and claim numbers are expected below 2^40. Claims are
// numbered as they arrive, so behind subject and relation the order is there already.
KeyShape shape_of(char family) {
    switch (family) {
        case 'c':  // subject relation | number ordinal
            return {{4, 5, 6, 7, 8, 11, 12, 16, 17, 18, 19, 20, 22, 23, 24}, 7};
        case 'o':  // object subject relation | number
            return {{4, 5, 6, 7, 8, 12, 13, 14, 15, 16, 19, 20, 24, 25, 26, 27, 28}, 12};
        case 'y':  // source subject relation | number ordinal
            return {{4, 5, 6, 7, 8, 12, 13, 14, 15, 16, 19, 20, 24, 25, 26, 27, 28, 30, 31, 32}, 12};
        case 'x':  // a hash: after four bytes hardly two are alike
            return {{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}, 4};
        default:
            return {};
    }
}

class WordEmitter : public WordVisitor {
public:
    WordEmitter(Change::State& state, EntityId entity, ClaimRef claim, FoundWord::Field field)
        : state_(state), entity_(entity), claim_(claim), field_(field) {}
    void word(std::string_view folded, std::size_t) override {
        state_.emit(claim_ ? keys::word(folded, claim_, field_) : keys::word(folded, entity_, field_), {});
    }

private:
    Change::State& state_;
    EntityId entity_;
    ClaimRef claim_;
    FoundWord::Field field_;
};

}  // namespace

Change::State::State(std::shared_ptr<Database> database, ChangeHead change_head, std::filesystem::path incoming_folder)
    : db(std::move(database)), head(std::move(change_head)), incoming(std::move(incoming_folder)) {
    entry.number = db->number("last-entry") + 1;
    entry.time = head.time;
    entry.author = head.author;
    entry.verb = head.verb;
    entry.reason = head.reason;
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

EntityId Change::State::intern(std::string_view key) {
    if (const EntityId known = entities.find(key)) return known;
    if (!fresh) {
        if (const auto value = db->get(keys::keyed(key))) {
            const EntityId id{Bytes(*value).big64()};
            entities.insert(key, id);
            return id;
        }
    }
    const EntityId id{next_entity++};
    entities.insert(key, id);
    Entity bare;
    bare.key = key;
    entity_fields.put(id.value, encode(bare));
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
        family = std::make_unique<SortedRuns>(incoming, std::string("pairs-") + key[0],
                                              budget_of(key[0], head.memory_budget), shape_of(key[0]), &sorting);
    }
    family->add(key, value);
    ++pairs;
    static constexpr std::string_view changeable = "clares";
    if (replaying && changeable.find(key[0]) != std::string_view::npos) overwritten[std::string(key)] = value;
}

void Change::State::index_words(std::string_view text, EntityId entity, FoundWord::Field field) {
    if (text.empty()) return;
    WordEmitter emitter(*this, entity, {}, field);
    each_word(text, emitter);
}

void Change::State::index_words(std::string_view text, ClaimRef claim, FoundWord::Field field) {
    if (text.empty()) return;
    WordEmitter emitter(*this, {}, claim, field);
    each_word(text, emitter);
}

std::optional<RecordPlace> Change::State::place_of(const ContentId& id) const {
    if (const PendingClaim* claim = claims.find(id)) return RecordPlace{RecordPlace::Type::claim, claim->ref, 0};
    return place_of_evidence(id);
}

std::optional<RecordPlace> Change::State::place_of_evidence(const ContentId& id) const {
    if (const RecordPlace* record = records.find(id)) return *record;
    if (fresh) return std::nullopt;
    const auto value = db->get(keys::content(id));
    if (!value) return std::nullopt;
    return decode_place(*value);
}

std::optional<std::string> Change::State::stored(const std::string& key) const {
    const auto changed = overwritten.find(key);
    if (changed != overwritten.end()) return changed->second;
    if (fresh) return std::nullopt;
    return db->get(key);
}

bool Change::State::withdrawn(const std::string& key) const {
    const auto changed = overwritten.find(key);
    return changed != overwritten.end() && !value_in_force(changed->second, entry.number);
}

void Change::State::overwrite(const std::string& key, std::string value) {
    emit(key, value);
    overwritten[key] = std::move(value);
}

ClaimRef Change::State::need_claim(const ContentId& id, std::uint32_t** ordinal) {
    if (PendingClaim* claim = claims.find(id)) {
        if (withdrawn(keys::claim(claim->ref))) {
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
    if (!value || !value_in_force(*value, entry.number))
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
