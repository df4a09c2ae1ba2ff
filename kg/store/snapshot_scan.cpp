// Lists, arguments and rulings; resolving ids; passes over the whole graph; the word index; history.
#include <fmt/format.h>

#include "kg/model/fault.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"
#include "kg/store/snapshot_state.h"

namespace saggar {
namespace {

ListingRow read_listing(std::string_view key, std::string_view value) {
    Bytes bytes(key.substr(1));
    ListingRow row;
    row.subject.value = bytes.big64();
    row.relation.value = bytes.big32();
    row.number = bytes.big64();
    decode(value, row);
    return row;
}

ArgumentRow read_argument(std::string_view key, std::string_view value) {
    Bytes bytes(key.substr(1));
    ArgumentRow row;
    row.conclusion = keys::read_claim(bytes);
    row.number = bytes.big64();
    decode(value, row);
    return row;
}

RulingRow read_ruling(std::string_view key, std::string_view value) {
    Bytes bytes(key.substr(1));
    RulingRow row;
    row.claim = keys::read_claim(bytes);
    row.number = bytes.big64();
    decode(value, row);
    return row;
}

// Rows in force under a prefix, in key order.
template <typename Row>
std::vector<Row> rows(const Database& database, std::string_view prefix, std::uint64_t entry,
                      Row (*read)(std::string_view, std::string_view)) {
    std::vector<Row> found;
    for_prefix(database, prefix, [&](std::string_view key, std::string_view value) {
        if (value_in_force(value, entry)) found.push_back(read(key, value));
        return true;
    });
    return found;
}

}  // namespace

std::vector<ListingRow> Snapshot::listings(EntityId subject, RelationId relation) const {
    if (!relation) return {};
    return rows(*db_, keys::lists(subject, relation), entry_, read_listing);
}

std::vector<ListingRow> Snapshot::listings_of(EntityId subject) const {
    return rows(*db_, keys::lists(subject), entry_, read_listing);
}

std::vector<ArgumentRow> Snapshot::arguments_for(ClaimRef conclusion) const {
    return rows(*db_, keys::arguments(conclusion), entry_, read_argument);
}

std::vector<ArgumentRow> Snapshot::arguments_from(ClaimRef premise) const {
    std::vector<ArgumentRow> found;
    const std::string prefix = keys::premises(premise);
    for_prefix(*db_, prefix, [&](std::string_view key, std::string_view) {
        Bytes bytes(key.substr(prefix.size()));
        const ClaimRef conclusion = keys::read_claim(bytes);
        const std::string at = keys::argument(conclusion, bytes.big64());
        const auto value = db_->get(at);
        if (value && value_in_force(*value, entry_)) found.push_back(read_argument(at, *value));
        return true;
    });
    return found;
}

std::vector<RulingRow> Snapshot::rulings(ClaimRef claim) const {
    return rows(*db_, keys::rulings(claim), entry_, read_ruling);
}

Spans Snapshot::spans_of(const ContentId& id) const {
    const auto place = place_of(id);
    const auto value = place ? db_->get(keys::record(*place)) : std::nullopt;
    if (!value) return {};
    Spans spans;
    for (Span span : read_spans(*value)) {
        if (span.since > entry_) break;
        if (span.until > entry_) span.until = 0;
        spans.push_back(span);
    }
    return spans;
}

ContentId Snapshot::need_id(std::string_view text) const {
    static constexpr std::string_view alphabet = "0123456789abcdefghjkmnpqrstvwxyz";
    const auto colon = text.find(':');
    const std::string_view kind = colon == std::string_view::npos ? std::string_view() : text.substr(0, colon);
    const std::string_view digits = colon == std::string_view::npos ? text : text.substr(colon + 1);
    const bool sound =
        digits.size() >= 4 && digits.size() <= 26 && digits.find_first_not_of(alphabet) == std::string_view::npos;
    if (!sound)
        throw UsageFault(fmt::format("\"{}\" is not the id of a record", text),
                         "ids have at least 4 of the signs 0-9 and a-z without i, l, o, u");
    // All ids that begin with the digits lie between the digits filled up with the lowest and the highest sign.
    ContentId from;
    {
        std::string lowest(digits);
        lowest.resize(26, '0');
        from = parse_content_id(lowest).value_or(ContentId{});
    }
    std::vector<ContentId> found;
    const auto cursor = db_->scan(keys::content(from));
    for (; cursor->Valid() && cursor->key().starts_with("x") && found.size() < 6; cursor->Next()) {
        ContentId id;
        const std::string_view raw = view(cursor->key()).substr(1);
        std::copy(raw.begin(), raw.end(), reinterpret_cast<char*>(id.bytes.data()));
        if (id.full().compare(0, digits.size(), digits) != 0) break;
        static constexpr std::string_view types[] = {"", "claim", "evidence", "list", "argument", "ruling"};
        const auto type = types[static_cast<std::size_t>(decode_place(view(cursor->value())).type)];
        if (kind.empty() || kind == type) found.push_back(id);
    }
    require(cursor->status(), "read the graph");
    if (found.empty())
        throw UsageFault(fmt::format("the graph knows no record {}", text),
                         "see `saggar show KEY` for the ids of an entity's claims");
    if (found.size() > 1) {
        std::string candidates;
        for (const ContentId& id : found)
            candidates += (candidates.empty() ? "" : ", ") + id.full().substr(0, digits.size() + 4);
        throw UsageFault(fmt::format("{} is short for several records", text), "give more of it: " + candidates);
    }
    return found.front();
}

void Snapshot::each_entity(const std::function<void(EntityId, const Entity&)>& visit) const {
    for_prefix(*db_, "e", [&](std::string_view key, std::string_view value) {
        std::string_view fields;
        if (!version_at(value, entry_, fields)) return true;
        Entity entity;
        decode(fields, entity);
        visit(EntityId{Bytes(key.substr(1)).big64()}, entity);
        return true;
    });
}

void Snapshot::each_source(const std::function<void(EntityId, const Source&)>& visit) const {
    for_prefix(*db_, "s", [&](std::string_view key, std::string_view value) {
        std::string_view fields;
        if (!version_at(value, entry_, fields)) return true;
        Source source;
        decode(fields, source);
        visit(EntityId{Bytes(key.substr(1)).big64()}, source);
        return true;
    });
}

void Snapshot::each_claim(const std::function<void(const ClaimWithEvidence&)>& visit) const {
    ClaimWithEvidence current;
    bool holding = false;
    for_prefix(*db_, "c", [&](std::string_view key, std::string_view value) {
        Bytes bytes(key.substr(1));
        const ClaimRef ref = keys::read_claim(bytes);
        if (bytes.at_end()) {
            if (holding) visit(current);
            holding = value_in_force(value, entry_);
            if (!holding) return true;
            current = {};
            current.claim.ref = ref;
            decode(value, current.claim);
        } else if (holding && value_in_force(value, entry_)) {
            EvidenceRow row;
            row.claim = ref;
            row.ordinal = bytes.big32();
            decode(value, row);
            current.evidence.push_back(std::move(row));
        }
        return true;
    });
    if (holding) visit(current);
}

void Snapshot::each_link(const std::function<void(ClaimRef, EntityId)>& visit) const {
    for_prefix(*db_, "o", [&](std::string_view key, std::string_view value) {
        Bytes bytes(key.substr(1));
        const EntityId thing{bytes.big64()};
        const Link link = keys::read_link(thing, bytes);
        if (link.forward && value_in_force(value, entry_)) visit(link.claim, link.other);
        return true;
    });
}

void Snapshot::each_listing(const std::function<void(const ListingRow&)>& visit) const {
    for (const ListingRow& row : rows(*db_, "l", entry_, read_listing)) visit(row);
}
void Snapshot::each_argument(const std::function<void(const ArgumentRow&)>& visit) const {
    for (const ArgumentRow& row : rows(*db_, "a", entry_, read_argument)) visit(row);
}
void Snapshot::each_ruling(const std::function<void(const RulingRow&)>& visit) const {
    for (const RulingRow& row : rows(*db_, "r", entry_, read_ruling)) visit(row);
}

void Snapshot::each_word(std::string_view folded, bool whole_word,
                         const std::function<bool(std::string_view, const FoundWord&)>& visit) const {
    std::string prefix = keys::words(folded);
    if (whole_word) prefix += '\0';
    for_prefix(*db_, prefix, [&](std::string_view key, std::string_view) {
        const std::size_t end = key.find('\0');
        if (end == std::string_view::npos) return true;
        Bytes bytes(key.substr(end + 1));
        FoundWord found;
        if (bytes.byte() == 'e') {
            found.entity.value = bytes.big64();
        } else {
            found.claim = keys::read_word_claim(bytes);
        }
        found.fields = bytes.byte();
        return visit(key.substr(1, end - 1), found);
    });
}

void Snapshot::each_distinct_word(std::string_view folded, const std::function<bool(std::string_view)>& visit) const {
    const std::string prefix = keys::words(folded);
    const auto cursor = db_->scan(prefix);
    while (cursor->Valid() && cursor->key().starts_with(prefix)) {
        const std::string_view key = view(cursor->key());
        const std::string word(key.substr(1, key.find('\0') - 1));
        if (!visit(word)) return;
        cursor->Seek(keys::words(word) + '\x01');  // behind all its places: they follow a 0
    }
    require(cursor->status(), "read the graph");
}

std::vector<Entry> Snapshot::history(std::uint64_t from, std::uint64_t to) const {
    std::vector<Entry> found;
    const auto cursor = db_->scan(keys::entry(from));
    for (; cursor->Valid() && cursor->key().starts_with("h"); cursor->Next()) {
        Entry entry;
        entry.number = Bytes(view(cursor->key()).substr(1)).big64();
        if (entry.number > to || entry.number > entry_) break;
        decode(view(cursor->value()), entry);
        found.push_back(std::move(entry));
    }
    require(cursor->status(), "read the graph");
    return found;
}

}  // namespace saggar
