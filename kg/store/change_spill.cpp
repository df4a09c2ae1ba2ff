// What a change looks up again in itself - names, ids, rows and descriptions it has put - within a budget of memory.
//
// All of it goes to the overflow at once when it outgrows the budget, and comes back piece by piece when it is asked for. Keys there:
//   N name -> entity:8   C content-id -> place ordinal:varint   R content-id -> place   W key of the graph -> value
//   E, S entity:8 -> fields (pending_fields.h)
#include "kg/store/change_state.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

std::string spilled_key(char space, const ContentId& id) {
    std::string key(1, space);
    key.append(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size());
    return key;
}

}  // namespace

void Change::State::spill_lookups() {
    std::string value;
    entities.each([&](std::string_view name, EntityId id) {
        value.clear();
        append_big64(value, id.value);
        overflow.put("N" + std::string(name), value);
    });
    claims.each([&](const ContentId& id, const PendingClaim& claim) {
        value.clear();
        append_varint(value, claim.ref.subject.value);
        append_varint(value, claim.ref.relation.value);
        append_varint(value, claim.ref.number);
        append_varint(value, claim.next_ordinal);
        overflow.put(spilled_key('C', id), value);
    });
    records.each([&](const ContentId& id, const RecordPlace& place) { overflow.put(spilled_key('R', id), encode(place)); });
    for (const auto& [key, row] : overwritten) overflow.put("W" + key, row);
    entity_fields.spill();
    source_fields.spill();
    overflow.flush();
    entities.clear();
    entities_again.clear();
    claims.clear();
    records.clear();
    overwritten = {};
    overwritten_bytes = 0;
}

EntityId Change::State::known_name(const NameTable::Probe& key) {
    if (const EntityId known = entities.find(key)) return known;
    if (const EntityId known = entities_again.find(key)) return known;
    EntityId id;
    if (overflow.in_use()) {
        if (const auto spilled = overflow.get("N" + std::string(key.name))) id = EntityId{Bytes(*spilled).big64()};
    }
    if (!id && !fresh) {
        if (const auto value = db->get(keys::keyed(key.name))) id = EntityId{Bytes(*value).big64()};
    }
    if (id) entities_again.insert(key.name, id);
    return id;
}

Change::State::PendingClaim* Change::State::pending_claim(const ContentId& id) {
    if (PendingClaim* const claim = claims.find(id)) return claim;
    if (!overflow.in_use()) return nullptr;
    const auto spilled = overflow.get(spilled_key('C', id));
    if (!spilled) return nullptr;
    Bytes bytes(*spilled);
    PendingClaim claim;
    claim.ref.subject = EntityId{bytes.varint()};
    claim.ref.relation = RelationId{static_cast<std::uint32_t>(bytes.varint())};
    claim.ref.number = bytes.varint();
    claim.next_ordinal = static_cast<std::uint32_t>(bytes.varint());
    return &claims.insert(id, claim);
}

std::optional<RecordPlace> Change::State::pending_record(const ContentId& id) const {
    if (const RecordPlace* const record = records.find(id)) return *record;
    if (!overflow.in_use()) return std::nullopt;
    const auto spilled = overflow.get(spilled_key('R', id));
    return spilled ? std::optional(decode_place(*spilled)) : std::nullopt;
}

std::optional<std::string> Change::State::rewritten(const std::string& key) const {
    const auto changed = overwritten.find(key);
    if (changed != overwritten.end()) return changed->second;
    return overflow.in_use() ? overflow.get("W" + key) : std::nullopt;
}

void Change::State::remember(const std::string& key, std::string value) {
    std::string& place = overwritten[key];
    overwritten_bytes += value.size() - place.size();
    if (place.empty()) overwritten_bytes += key.size() + sizeof(std::pair<std::string, std::string>) + 2 * sizeof(void*);
    place = std::move(value);
}

}  // namespace saggar
