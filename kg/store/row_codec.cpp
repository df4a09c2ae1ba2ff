#include "kg/store/row_codec.h"

#include "kg/store/codec.h"
#include "kg/store/keys.h"

namespace saggar {
namespace {

enum ClaimFlag : std::uint8_t { object_type_bits = 3, claim_private = 4, claim_scope = 8, claim_when = 16 };

enum EvidenceFlag : std::uint32_t {
    ev_against = 1,
    ev_private = 2,
    ev_at = 4,
    ev_quote = 8,
    ev_certainty = 16,
    ev_reading = 32,
    ev_mention = 64,
    ev_corrects = 128,
    ev_remark = 256,
    ev_recorded_by = 512,
    ev_recorded_on = 1024,
};

void append_id(std::string& out, const ContentId& id) {
    out.append(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size());
}

ContentId read_id(Bytes& bytes) {
    ContentId id;
    const std::string_view raw = bytes.raw(id.bytes.size());
    std::copy(raw.begin(), raw.end(), reinterpret_cast<char*>(id.bytes.data()));
    return id;
}

Spans read_spans_from(Bytes& bytes) {
    Spans spans(bytes.varint() & 0xFFFFFF);
    for (Span& span : spans) {
        span.since = bytes.varint();
        span.until = bytes.varint();
    }
    return spans;
}

// The bytes of the spans at the beginning of `value`, which `bytes` reads.
std::string_view skip_spans(Bytes& bytes, std::string_view value) {
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        bytes.varint();
        bytes.varint();
    }
    return value.substr(0, value.size() - bytes.left());
}

}  // namespace

void append_spans(std::string& out, const Spans& spans) {
    append_varint(out, spans.size());
    for (const Span& span : spans) {
        append_varint(out, span.since);
        append_varint(out, span.until);
    }
}

Spans read_spans(std::string_view value) {
    Bytes bytes(value);
    return read_spans_from(bytes);
}

bool value_in_force(std::string_view value, std::uint64_t entry) {
    Bytes bytes(value);
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        Span span;
        span.since = bytes.varint();
        span.until = bytes.varint();
        if (span.holds_at(entry)) return true;
    }
    return false;
}

void append_fields(std::string& out, const ClaimRow& row) {
    append_id(out, row.id);
    out += static_cast<char>(static_cast<int>(row.object_type) | (row.is_private ? claim_private : 0) |
                             (row.scope.empty() ? 0 : claim_scope) | (row.when.empty() ? 0 : claim_when));
    if (row.has_entity_object()) {
        append_varint(out, row.object.value);
    } else {
        append_text(out, row.object_text);
        append_text(out, row.object_unit);
    }
    if (!row.scope.empty()) append_text(out, row.scope);
    if (!row.when.empty()) append_text(out, row.when);
}

std::string encode(const ClaimRow& row) {
    std::string out;
    append_spans(out, row.spans);
    append_fields(out, row);
    return out;
}

ClaimView view_claim(std::string_view value) {
    Bytes bytes(value);
    ClaimView view;
    view.spans = skip_spans(bytes, value);
    view.id = read_id(bytes);
    const std::uint8_t flags = bytes.byte();
    view.object_type = static_cast<Value::Type>(flags & object_type_bits);
    view.is_private = (flags & claim_private) != 0;
    if (view.object_type == Value::Type::entity) {
        view.object.value = bytes.varint();
    } else {
        view.object_text = bytes.text();
        view.object_unit = bytes.text();
    }
    if (flags & claim_scope) view.scope = bytes.text();
    if (flags & claim_when) view.when = bytes.text();
    return view;
}

void decode(std::string_view value, ClaimRow& row) {
    const ClaimView view = view_claim(value);
    row.spans = read_spans(view.spans);
    row.id = view.id;
    row.object_type = view.object_type;
    row.is_private = view.is_private;
    row.object = view.object;
    row.object_text = view.object_text;
    row.object_unit = view.object_unit;
    row.scope = view.scope;
    row.when = view.when;
}

void append_fields(std::string& out, const EvidenceRow& row) {
    append_id(out, row.id);
    append_varint(out, row.source.value);
    std::uint32_t flags = 0;
    if (row.stance == Stance::against) flags |= ev_against;
    if (row.is_private) flags |= ev_private;
    if (!row.at.empty()) flags |= ev_at;
    if (!row.quote.empty()) flags |= ev_quote;
    if (!row.certainty.empty()) flags |= ev_certainty;
    if (!row.reading.empty()) flags |= ev_reading;
    if (row.mention) flags |= ev_mention;
    if (!row.corrects.empty()) flags |= ev_corrects;
    if (!row.remark.empty()) flags |= ev_remark;
    if (!row.recorded_by.empty()) flags |= ev_recorded_by;
    if (!row.recorded_on.empty()) flags |= ev_recorded_on;
    append_varint(out, flags);
    if (flags & ev_at) append_text(out, row.at);
    if (flags & ev_quote) append_text(out, row.quote);
    if (flags & ev_certainty) append_text(out, row.certainty);
    if (flags & ev_reading) append_text(out, row.reading);
    if (flags & ev_mention) append_double(out, *row.mention);
    if (flags & ev_corrects) append_id(out, row.corrects);
    if (flags & ev_remark) append_text(out, row.remark);
    if (flags & ev_recorded_by) append_text(out, row.recorded_by);
    if (flags & ev_recorded_on) append_text(out, row.recorded_on);
}

std::string encode(const EvidenceRow& row) {
    std::string out;
    append_spans(out, row.spans);
    append_fields(out, row);
    return out;
}

EvidenceView view_evidence(std::string_view value) {
    Bytes bytes(value);
    EvidenceView view;
    view.spans = skip_spans(bytes, value);
    view.id = read_id(bytes);
    view.source.value = bytes.varint();
    const auto flags = static_cast<std::uint32_t>(bytes.varint());
    view.stance = flags & ev_against ? Stance::against : Stance::in_favour;
    view.is_private = (flags & ev_private) != 0;
    if (flags & ev_at) view.at = bytes.text();
    if (flags & ev_quote) view.quote = bytes.text();
    if (flags & ev_certainty) view.certainty = bytes.text();
    if (flags & ev_reading) view.reading = bytes.text();
    if (flags & ev_mention) view.mention = bytes.number();
    if (flags & ev_corrects) view.corrects = read_id(bytes);
    if (flags & ev_remark) view.remark = bytes.text();
    if (flags & ev_recorded_by) view.recorded_by = bytes.text();
    if (flags & ev_recorded_on) view.recorded_on = bytes.text();
    return view;
}

void decode(std::string_view value, EvidenceRow& row) {
    const EvidenceView view = view_evidence(value);
    row.spans = read_spans(view.spans);
    row.id = view.id;
    row.source = view.source;
    row.stance = view.stance;
    row.is_private = view.is_private;
    row.at = view.at;
    row.quote = view.quote;
    row.certainty = view.certainty;
    row.reading = view.reading;
    row.mention = view.mention;
    row.corrects = view.corrects;
    row.remark = view.remark;
    row.recorded_by = view.recorded_by;
    row.recorded_on = view.recorded_on;
}

std::string encode(const ListingRow& row) {
    std::string out;
    append_spans(out, row.spans);
    append_id(out, row.id);
    append_varint(out, row.source.value);
    append_double(out, row.completeness);
    append_varint(out, row.is_private ? 1 : 0);
    for (const std::string* text :
         {&row.scope, &row.when, &row.at, &row.quote, &row.remark, &row.recorded_by, &row.recorded_on})
        append_text(out, *text);
    return out;
}

void decode(std::string_view value, ListingRow& row) {
    Bytes bytes(value);
    row.spans = read_spans_from(bytes);
    row.id = read_id(bytes);
    row.source.value = bytes.varint();
    row.completeness = bytes.number();
    row.is_private = bytes.varint() != 0;
    for (std::string* text :
         {&row.scope, &row.when, &row.at, &row.quote, &row.remark, &row.recorded_by, &row.recorded_on})
        *text = bytes.text();
}

std::string encode(const ArgumentRow& row) {
    std::string out;
    append_spans(out, row.spans);
    append_id(out, row.id);
    append_varint(out, (row.stance == Stance::against ? 1u : 0u) | (row.is_private ? 2u : 0u));
    append_double(out, row.strength);
    append_varint(out, row.premises.size());
    for (const ClaimRef& premise : row.premises) keys::append(out, premise);
    for (const std::string* text : {&row.reason, &row.rule, &row.recorded_by, &row.recorded_on})
        append_text(out, *text);
    return out;
}

void decode(std::string_view value, ArgumentRow& row) {
    Bytes bytes(value);
    row.spans = read_spans_from(bytes);
    row.id = read_id(bytes);
    const std::uint64_t flags = bytes.varint();
    row.stance = flags & 1 ? Stance::against : Stance::in_favour;
    row.is_private = (flags & 2) != 0;
    row.strength = bytes.number();
    for (std::uint64_t left = bytes.varint(); left > 0; --left) row.premises.push_back(keys::read_claim(bytes));
    for (std::string* text : {&row.reason, &row.rule, &row.recorded_by, &row.recorded_on}) *text = bytes.text();
}

std::string encode(const RulingRow& row) {
    std::string out;
    append_spans(out, row.spans);
    append_id(out, row.id);
    append_varint(out, static_cast<std::uint64_t>(row.decision) | (row.is_private ? 4u : 0u));
    append_varint(out, row.looked_at.size());
    for (const ContentId& id : row.looked_at) append_id(out, id);
    for (const std::string* text : {&row.reasons, &row.decided_by, &row.decided_on}) append_text(out, *text);
    return out;
}

void decode(std::string_view value, RulingRow& row) {
    Bytes bytes(value);
    row.spans = read_spans_from(bytes);
    row.id = read_id(bytes);
    const std::uint64_t flags = bytes.varint();
    row.decision = static_cast<Ruling::Decision>(flags & 3);
    row.is_private = (flags & 4) != 0;
    for (std::uint64_t left = bytes.varint(); left > 0; --left) row.looked_at.push_back(read_id(bytes));
    for (std::string* text : {&row.reasons, &row.decided_by, &row.decided_on}) *text = bytes.text();
}

std::string encode(const Entry& entry) {
    std::string out;
    for (const std::string* text : {&entry.time, &entry.author, &entry.verb, &entry.reason}) append_text(out, *text);
    const Entry::Counts& n = entry.counts;
    for (const std::uint64_t count :
         {n.entities, n.sources, n.claims, n.evidence, n.lists, n.arguments, n.rulings, n.withdrawals})
        append_varint(out, count);
    append_varint(out, entry.withdrawals.size());
    for (const Withdrawal& withdrawal : entry.withdrawals) {
        append_id(out, withdrawal.of);
        append_text(out, withdrawal.reason);
    }
    return out;
}

void decode(std::string_view value, Entry& entry) {
    Bytes bytes(value);
    for (std::string* text : {&entry.time, &entry.author, &entry.verb, &entry.reason}) *text = bytes.text();
    Entry::Counts& n = entry.counts;
    for (std::uint64_t* count :
         {&n.entities, &n.sources, &n.claims, &n.evidence, &n.lists, &n.arguments, &n.rulings, &n.withdrawals})
        *count = bytes.varint();
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        Withdrawal withdrawal;
        withdrawal.of = read_id(bytes);
        withdrawal.reason = bytes.text();
        entry.withdrawals.push_back(std::move(withdrawal));
    }
}

std::string encode(const RecordPlace& place) {
    std::string out(1, static_cast<char>(place.type));
    for (const std::uint64_t number :
         {place.claim.subject.value, std::uint64_t{place.claim.relation.value}, place.claim.number, place.number})
        append_varint(out, number);
    return out;
}

RecordPlace decode_place(std::string_view value) {
    Bytes bytes(value);
    RecordPlace place;
    place.type = static_cast<RecordPlace::Type>(bytes.byte());
    place.claim.subject.value = bytes.varint();
    place.claim.relation.value = static_cast<std::uint32_t>(bytes.varint());
    place.claim.number = bytes.varint();
    place.number = bytes.varint();
    return place;
}

}  // namespace saggar
