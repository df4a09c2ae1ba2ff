#include "kg/store/private_marks.h"

#include <algorithm>
#include <vector>

#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

constexpr std::uint64_t newest = ~std::uint64_t{0};

template <typename Described>
std::optional<Described> newest_version(const Database& database, const std::string& key) {
    const auto value = database.get(key);
    std::string_view fields;
    if (!value || !version_at(*value, newest, fields)) return std::nullopt;
    Described one;
    decode(fields, one);
    return one;
}

// Arguments for or against a claim, in force or not.
std::vector<ArgumentRow> all_arguments(const Database& database, ClaimRef claim) {
    std::vector<ArgumentRow> rows;
    for_prefix(database, keys::arguments(claim), [&](std::string_view, std::string_view value) {
        rows.emplace_back();
        rows.back().conclusion = claim;
        decode(value, rows.back());
        return true;
    });
    return rows;
}

template <typename Row>
std::optional<Row> stored_row(const Database& database, const RecordPlace& place) {
    const auto value = database.get(keys::record(place));
    if (!value) return std::nullopt;
    Row row;
    decode(*value, row);
    return row;
}

}  // namespace

// --- marks ---------------------------------------------------------------------------------------------------------------
bool PrivateMarks::is_marked(EntityId thing) {
    const auto known = marked_.find(thing);
    if (known != marked_.end()) return known->second;
    const Database& database = snapshot_->database();
    const auto entity = newest_version<Entity>(database, keys::entity(thing));
    const auto source = newest_version<Source>(database, keys::source(thing));
    return marked_[thing] = (entity && entity->is_private) || (source && source->is_private);
}

bool PrivateMarks::is_marked(std::string_view key) {
    if (key.empty()) return false;
    const auto value = snapshot_->database().get(keys::keyed(key));
    return value && is_marked(EntityId{Bytes(*value).big64()});
}

bool PrivateMarks::is_marked(const ClaimRow& claim) {
    if (claim.is_private || is_marked(claim.ref.subject)) return true;
    return (claim.has_entity_object() && is_marked(claim.object)) || is_marked(claim.scope);
}

bool PrivateMarks::is_marked(const ListingRow& list) {
    return list.is_private || is_marked(list.source) || is_marked(list.subject) || is_marked(list.scope);
}

// --- claims --------------------------------------------------------------------------------------------------------------
std::optional<ClaimRow> PrivateMarks::row_of(ClaimRef claim) const {
    auto row = stored_row<ClaimRow>(snapshot_->database(), RecordPlace{RecordPlace::Type::claim, claim, 0});
    if (row) row->ref = claim;
    return row;
}

// What the claim and its own readings tell; `argued`: only its arguments can open it.
PrivateMarks::Standing PrivateMarks::standing(ClaimRef claim) {
    const auto row = row_of(claim);
    if (!row || is_marked(*row)) return Standing::hidden;
    const Database& database = snapshot_->database();
    bool is_read = false, is_open = false;
    for_prefix(database, keys::claim(claim), [&](std::string_view key, std::string_view value) {
        if (key.size() == 1 + keys::claim_bytes) return true;
        is_read = true;
        const EvidenceView reading = view_evidence(value);
        is_open = !reading.is_private && !is_marked(reading.source);
        return !is_open;
    });
    if (is_open) return Standing::open;
    bool is_argued = false;
    for_prefix(database, keys::arguments(claim), [&](std::string_view, std::string_view) {
        is_argued = true;
        return false;
    });
    return is_argued ? Standing::argued : is_read ? Standing::hidden : Standing::open;
}

bool PrivateMarks::is_hidden(ClaimRef claim) {
    const auto known = claims_.find(claim);
    if (known != claims_.end()) return known->second;
    const Standing own = standing(claim);
    if (own == Standing::argued) return !is_argued_openly(claim);
    return claims_[claim] = own == Standing::hidden;
}

// The least set of open conclusions: each follows from premises that are open without it.
bool PrivateMarks::is_argued_openly(ClaimRef claim) {
    std::unordered_map<ClaimRef, std::vector<ArgumentRow>> waiting;
    std::vector<ClaimRef> to_read = {claim};
    while (!to_read.empty()) {
        const ClaimRef one = to_read.back();
        to_read.pop_back();
        if (claims_.count(one) || waiting.count(one)) continue;
        const Standing own = standing(one);
        if (own != Standing::argued) {
            claims_[one] = own == Standing::hidden;
            continue;
        }
        std::vector<ArgumentRow> arguments = all_arguments(snapshot_->database(), one);
        std::erase_if(arguments, [](const ArgumentRow& row) { return row.is_private; });
        for (const ArgumentRow& row : arguments) to_read.insert(to_read.end(), row.premises.begin(), row.premises.end());
        waiting.emplace(one, std::move(arguments));
    }
    const auto is_open = [this](ClaimRef premise) {
        const auto known = claims_.find(premise);
        return known != claims_.end() && !known->second;
    };
    for (bool again = true; again;) {
        again = false;
        for (const auto& [one, arguments] : waiting) {
            if (claims_.count(one)) continue;
            const bool follows = std::any_of(arguments.begin(), arguments.end(), [&](const ArgumentRow& row) {
                return std::all_of(row.premises.begin(), row.premises.end(), is_open);
            });
            if (!follows) continue;
            claims_[one] = false;
            again = true;
        }
    }
    for (const auto& one : waiting) claims_.emplace(one.first, true);
    return !claims_.at(claim);
}

bool PrivateMarks::is_hidden(const ArgumentRow& argument) {
    return argument.is_private ||
           std::any_of(argument.premises.begin(), argument.premises.end(), [this](ClaimRef premise) { return is_hidden(premise); });
}

bool PrivateMarks::is_hidden(const ContentId& record) {
    const auto place = snapshot_->place_of(record);
    if (!place) return false;
    const Database& database = snapshot_->database();
    if (place->type == RecordPlace::Type::list) {
        auto row = stored_row<ListingRow>(database, *place);
        if (row) row->subject = place->claim.subject;
        return row && is_marked(*row);
    }
    if (is_hidden(place->claim)) return true;
    if (place->type == RecordPlace::Type::evidence) {
        const auto row = stored_row<EvidenceRow>(database, *place);
        return row && is_marked(*row);
    }
    if (place->type == RecordPlace::Type::argument) {
        const auto row = stored_row<ArgumentRow>(database, *place);
        return row && is_hidden(*row);
    }
    if (place->type != RecordPlace::Type::ruling) return false;
    const auto row = stored_row<RulingRow>(database, *place);
    return row && row->is_private;
}

// --- things --------------------------------------------------------------------------------------------------------------
bool PrivateMarks::is_described(EntityId thing) const {
    const Database& database = snapshot_->database();
    const auto one = newest_version<Entity>(database, keys::entity(thing));
    if (one && !(one->label.text.empty() && one->also.empty() && one->remark.empty() && one->image.empty() && one->identifiers.empty()))
        return true;
    return database.get(keys::source(thing)).has_value();
}

bool PrivateMarks::is_hidden(EntityId thing) {
    const auto known = hidden_.find(thing);
    if (known != hidden_.end()) return known->second;
    if (is_marked(thing)) return hidden_[thing] = true;
    if (is_described(thing)) return hidden_[thing] = false;
    bool is_named = false;
    if (is_named_openly(thing, is_named)) return hidden_[thing] = false;
    const auto passing = in_passing().find(snapshot_->key_of(thing));
    if (passing == in_passing().end()) return hidden_[thing] = is_named;
    return hidden_[thing] = !passing->second;
}

// As subject, object or source of a record that is open; `is_named`: of any record.
bool PrivateMarks::is_named_openly(EntityId thing, bool& is_named) {
    const Database& database = snapshot_->database();
    std::vector<ClaimRef> claims;
    for_prefix(database, keys::claims(thing), [&](std::string_view key, std::string_view) {
        Bytes bytes(key.substr(1));
        const ClaimRef ref = keys::read_claim(bytes);
        if (bytes.at_end()) claims.push_back(ref);
        return true;
    });
    const std::string links = keys::links(thing);
    for_prefix(database, links, [&](std::string_view key, std::string_view) {
        Bytes bytes(key.substr(links.size()));
        ClaimRef ref;
        ref.relation.value = bytes.big32();
        if (bytes.byte() == 0) return true;  // seen from its subject
        ref.subject.value = bytes.big64();
        ref.number = bytes.big64();
        claims.push_back(ref);
        return true;
    });
    is_named = !claims.empty();
    if (std::any_of(claims.begin(), claims.end(), [this](ClaimRef claim) { return !is_hidden(claim); })) return true;
    bool open = false;
    const std::string drawn = keys::by_source(thing);
    for_prefix(database, drawn, [&](std::string_view key, std::string_view) {
        is_named = true;
        Bytes bytes(key.substr(drawn.size()));
        RecordPlace place{RecordPlace::Type::evidence, keys::read_claim(bytes), 0};
        place.number = bytes.big32();
        const auto row = stored_row<EvidenceRow>(database, place);
        open = row && !is_marked(*row) && !is_hidden(place.claim);
        return !open;
    });
    if (open || !snapshot_->any_listings()) return open;
    for_prefix(database, "l", [&](std::string_view key, std::string_view value) {
        ListingRow row;
        row.subject = EntityId{Bytes(key.substr(1)).big64()};
        decode(value, row);
        if (row.subject != thing && row.source != thing) return true;
        is_named = true;
        open = !is_marked(row);
        return !open;
    });
    return open;
}

const PrivateMarks::InPassing& PrivateMarks::in_passing() {
    if (in_passing_) return *in_passing_;
    in_passing_.emplace();
    const auto name = [this](std::string_view key, bool open) {
        if (key.empty()) return;
        bool& known = (*in_passing_)[std::string(key)];
        known = known || open;
    };
    const Database& database = snapshot_->database();
    for_prefix(database, "c", [&](std::string_view key, std::string_view value) {
        if (key.size() != 1 + keys::claim_bytes) return true;
        const ClaimView claim = view_claim(value);
        Bytes bytes(key.substr(1));
        if (!claim.scope.empty()) name(claim.scope, !is_hidden(keys::read_claim(bytes)));
        return true;
    });
    for_prefix(database, "l", [&](std::string_view key, std::string_view value) {
        ListingRow row;
        row.subject = EntityId{Bytes(key.substr(1)).big64()};
        decode(value, row);
        name(row.scope, !is_marked(row));
        return true;
    });
    snapshot_->each_source([&](EntityId id, const Source& source) {
        for (const Copy& copy : source.copied_from) name(copy.of, !is_marked(id));
        name(source.family, !is_marked(id));
    });
    return *in_passing_;
}

}  // namespace saggar
