// The values of the store: one function to write and one to read each kind of row.
//
//   spans           = count:varint { since:varint until:varint }
//   versions        = count:varint { since:varint fields:text }   ascending; the last one at or before an entry holds
//   claim-fields    = content-id:16 flags:1 object [scope:text] [when:text]
//   object          = entity:varint | text unit:text               told by two bits of flags
//   evidence-fields = content-id:16 source:varint flags:varint { text | number:8 | content-id:16 }   as flags say
//   list-fields, argument-fields, ruling-fields, entry-fields: all fields in the order of row_codec.cpp
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kg/model/record.h"
#include "kg/store/rows.h"

namespace saggar {

void append_spans(std::string& out, const Spans& spans);

void append_fields(std::string& out, const ClaimRow& row);
void append_fields(std::string& out, const EvidenceRow& row);
std::string encode(const ClaimRow& row);
std::string encode(const EvidenceRow& row);
std::string encode(const ListingRow& row);
std::string encode(const ArgumentRow& row);
std::string encode(const RulingRow& row);
std::string encode(const Entry& entry);
std::string encode(const Entity& entity);
std::string encode(const Source& source);
std::string encode(const RecordPlace& place);

// Only the spans, which lead every spanned value.
Spans read_spans(std::string_view value);
// Whether a spanned value is in force, without building anything.
bool value_in_force(std::string_view value, std::uint64_t entry);
// A claim or evidence value read in place: the views point into it.
struct ClaimView {
    std::string_view spans;  // encoded
    ContentId id;
    Value::Type object_type = Value::Type::entity;
    EntityId object;
    std::string_view object_text, object_unit, scope, when;
    bool is_private = false;
};
ClaimView view_claim(std::string_view value);
struct EvidenceView {
    std::string_view spans;  // encoded
    ContentId id;
    EntityId source;
    Stance stance = Stance::in_favour;
    std::string_view at, quote, certainty, reading, remark, recorded_by, recorded_on;
    std::optional<double> mention;
    ContentId corrects;
    bool is_private = false;
};
EvidenceView view_evidence(std::string_view value);

// The refs come from the key; these fill everything else.
void decode(std::string_view value, ClaimRow& row);
void decode(std::string_view value, EvidenceRow& row);
void decode(std::string_view value, ListingRow& row);
void decode(std::string_view value, ArgumentRow& row);
void decode(std::string_view value, RulingRow& row);
void decode(std::string_view value, Entry& entry);
void decode(std::string_view fields, Entity& entity);
void decode(std::string_view fields, Source& source);
RecordPlace decode_place(std::string_view value);

// Versions of entities and sources: pairs of entry and encoded fields.
using Versions = std::vector<std::pair<std::uint64_t, std::string>>;
std::string encode(const Versions& versions);
Versions decode_versions(std::string_view value);
// The fields that hold at `entry`; empty view with false where none does.
bool version_at(std::string_view value, std::uint64_t entry, std::string_view& fields);

}  // namespace saggar
