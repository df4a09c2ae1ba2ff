// Records as the store reads them: with internal numbers in place of keys, and when they were in force.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kg/model/record.h"
#include "kg/store/ids.h"

namespace saggar {

// In force from entry `since` until before entry `until` (0: still in force).
struct Span {
    std::uint64_t since = 0;
    std::uint64_t until = 0;
    bool holds_at(std::uint64_t entry) const { return since <= entry && (until == 0 || until > entry); }
    bool operator==(const Span&) const = default;
};
using Spans = std::vector<Span>;  // ascending, disjoint

inline bool in_force(const Spans& spans, std::uint64_t entry) {
    for (const Span& span : spans)
        if (span.holds_at(entry)) return true;
    return false;
}

// The entry from which a record is in force, seen from `entry`; 0 where it never was by then.
inline std::uint64_t in_force_since(const Spans& spans, std::uint64_t entry) {
    std::uint64_t since = 0;
    for (const Span& span : spans)
        if (span.since <= entry) since = span.since;
    return since;
}

struct ClaimRow {
    ClaimRef ref;
    ContentId id;
    Value::Type object_type = Value::Type::entity;
    EntityId object;          // where object_type is entity
    std::string object_text;  // otherwise: text, number or date
    std::string object_unit;
    std::string scope;  // key or empty
    std::string when;   // EDTF or empty
    bool is_private = false;
    Spans spans;

    bool has_entity_object() const { return object_type == Value::Type::entity; }
};

struct EvidenceRow {
    ClaimRef claim;
    std::uint32_t ordinal = 0;  // within the claim, from 1
    ContentId id;
    EntityId source;
    Stance stance = Stance::in_favour;
    std::string at;
    std::string quote;
    std::string certainty;
    std::string reading;
    std::optional<double> mention;
    ContentId corrects;
    std::string remark;
    std::string recorded_by;
    std::string recorded_on;
    bool is_private = false;
    Spans spans;
};

// A claim and what is said of it: adjacent on disk, one seek.
struct ClaimWithEvidence {
    ClaimRow claim;
    std::vector<EvidenceRow> evidence;
};

struct ListingRow {
    EntityId subject;
    RelationId relation;
    std::uint64_t number = 0;
    ContentId id;
    EntityId source;
    std::string scope;
    std::string when;
    double completeness = 1;
    std::string at;
    std::string quote;
    std::string remark;
    std::string recorded_by;
    std::string recorded_on;
    bool is_private = false;
    Spans spans;
};

struct ArgumentRow {
    ClaimRef conclusion;
    std::uint64_t number = 0;
    ContentId id;
    std::vector<ClaimRef> premises;
    Stance stance = Stance::in_favour;
    double strength = 1;
    std::string reason;
    std::string rule;
    std::string recorded_by;
    std::string recorded_on;
    bool is_private = false;
    Spans spans;
};

struct RulingRow {
    ClaimRef claim;
    std::uint64_t number = 0;
    ContentId id;
    Ruling::Decision decision = Ruling::Decision::left_open;
    std::string reasons;
    std::vector<ContentId> looked_at;
    std::string decided_by;
    std::string decided_on;
    bool is_private = false;
    Spans spans;
};

// One claim between entities, seen from one end.
struct Link {
    EntityId other;
    ClaimRef claim;
    bool forward = true;  // true: the entity asked about is the subject
    bool operator==(const Link&) const = default;
};

// One numbered change.
struct Entry {
    std::uint64_t number = 0;
    std::string time;  // ISO 8601, UTC
    std::string author;
    std::string verb;    // "load", "note", "settle", ...
    std::string reason;  // for a load: the file's name
    struct Counts {
        std::uint64_t entities = 0, sources = 0, claims = 0, evidence = 0, lists = 0, arguments = 0, rulings = 0,
                      withdrawals = 0;
        bool operator==(const Counts&) const = default;
        std::uint64_t all() const {
            return entities + sources + claims + evidence + lists + arguments + rulings + withdrawals;
        }
    } counts;  // new or newly in force; entities and sources: new versions
    std::vector<Withdrawal> withdrawals;
    bool operator==(const Entry&) const = default;
};

// What a content id names.
struct RecordPlace {
    enum class Type : std::uint8_t { claim = 1, evidence, list, argument, ruling };
    Type type = Type::claim;
    // The claim; of evidence, argument (its conclusion) and ruling: the claim concerned. Of a list: subject and
    // relation, number 0.
    ClaimRef claim;
    std::uint64_t number = 0;  // ordinal of evidence; number of list, argument, ruling; 0 for a claim
};

// Where a word of the search index occurs.
struct FoundWord {
    enum Field : std::uint8_t { label = 1, also = 2, remark = 4, title = 8, quote = 16, text = 32 };
    EntityId entity;          // set for words of entities and sources
    ClaimRef claim;           // set for words of quotes, remarks and text objects of a claim
    std::uint8_t fields = 0;  // which fields, or-ed
};

}  // namespace saggar
