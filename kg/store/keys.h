// The key layout. Keys are compared bytewise and at most 700 bytes long; numbers in keys are big-endian.
//
//   database   = { setting | relation | keyed | entity | source | claim | evidence | link | content | by-source |
//                  correction | list | argument | premise | ruling | entry | word | file | vocabulary | profile }
//
//   setting    = "m" name                                  -> text
//   relation   = "n" name                                  -> number:4
//   keyed      = "k" entity-key                            -> entity:8
//   entity     = "e" entity:8                              -> versions           (row_codec.h)
//   source     = "s" entity:8                              -> versions
//   claim      = "c" subject:8 relation:4 number:8         -> spans claim-fields
//   evidence   = claim-key ordinal:4                       -> spans evidence-fields   directly behind its claim
//   link       = "o" subject:8 relation:4 0 number:8 object:8 -> spans           a claim between things seen from its subject,
//              | "o" object:8 relation:4 1 subject:8 number:8 -> spans           and from its object: without its evidence
//   content    = "x" content-id:16                         -> type:1 subject:varint relation:varint number:varint record:varint
//   by-source  = "y" source:8 claim ordinal:4              -> (nothing)
//   correction = "z" evidence-id:16 claim ordinal:4      -> (nothing)          what was taken back, then what takes it back
//   list       = "l" subject:8 relation:4 number:8         -> spans list-fields
//   argument   = "a" claim number:8                        -> spans argument-fields   claim: the conclusion
//   premise    = "p" claim claim number:8                  -> (nothing)          premise, then conclusion and number
//   ruling     = "r" claim number:8                        -> spans ruling-fields
//   entry      = "h" number:8                              -> entry-fields
//   word       = "t" folded-word 0 ( "e" entity:8 | "c" subject:5 relation:2 number:5 ) field:1 -> (nothing)   may be out of date
//   file       = "f" digest:16                             -> entry:varint
//   vocabulary = "v" entry:8                               -> text
//   profile    = "q" entry:8                               -> text
//
// Settings that count: "m" "next-entity" | "next-claim" | "next-record" | "last-entry" | "format".
//
// Worked example. Entity 7 is line:northern, 3 is company:calloway, relation 2 is commissioned-by, claim number 5, one reading:
//   63 | 00 00 00 00 00 00 00 07 | 00 00 00 02 | 00 00 00 00 00 00 00 05                -> the claim
//   63 | 00 00 00 00 00 00 00 07 | 00 00 00 02 | 00 00 00 00 00 00 00 05 | 00 00 00 01  -> its first evidence
//   6f | 00 00 00 00 00 00 00 07 | 00 00 00 02 | 00 | 00 00 00 00 00 00 00 05 | 00 00 00 00 00 00 00 03 -> seen from the subject
//   6f | 00 00 00 00 00 00 00 03 | 00 00 00 02 | 01 | 00 00 00 00 00 00 00 07 | 00 00 00 00 00 00 00 05 -> seen from the object
// keys_test.cpp holds these bytes.
#pragma once

#include <string>
#include <string_view>

#include "kg/model/content_id.h"
#include "kg/store/codec.h"
#include "kg/store/ids.h"
#include "kg/store/rows.h"

namespace saggar::keys {

inline constexpr std::size_t longest = 700;
inline constexpr std::size_t claim_bytes = 20;

inline void append(std::string& out, ClaimRef ref) {
    append_big64(out, ref.subject.value);
    append_big32(out, ref.relation.value);
    append_big64(out, ref.number);
}

inline std::string setting(std::string_view name) { return "m" + std::string(name); }
inline std::string relation(std::string_view name) { return "n" + std::string(name); }
inline std::string keyed(std::string_view key) { return "k" + std::string(key); }

// make_...: the same into a string that is used again and again, where millions are made.
inline void make_with_number(std::string& out, char family, std::uint64_t number) {
    out.assign(1, family);
    append_big64(out, number);
}
inline std::string with_number(char family, std::uint64_t number) {
    std::string out;
    make_with_number(out, family, number);
    return out;
}
inline std::string entity(EntityId id) { return with_number('e', id.value); }
inline std::string source(EntityId id) { return with_number('s', id.value); }
inline std::string entry(std::uint64_t number) { return with_number('h', number); }
inline std::string vocabulary(std::uint64_t number) { return with_number('v', number); }
inline std::string profile(std::uint64_t number) { return with_number('q', number); }

// Prefix of all claims of a subject, or of a subject and relation.
inline std::string claims(EntityId subject) { return with_number('c', subject.value); }
inline std::string claims(EntityId subject, RelationId relation) {
    std::string out = claims(subject);
    append_big32(out, relation.value);
    return out;
}
inline void make_claim(std::string& out, ClaimRef ref) {
    out.assign(1, 'c');
    append(out, ref);
}
inline std::string with_claim(char family, ClaimRef ref) {
    std::string out(1, family);
    append(out, ref);
    return out;
}
inline std::string claim(ClaimRef ref) { return with_claim('c', ref); }
inline void make_evidence(std::string& out, ClaimRef ref, std::uint32_t ordinal) {
    make_claim(out, ref);
    append_big32(out, ordinal);
}
inline std::string evidence(ClaimRef ref, std::uint32_t ordinal) {
    std::string out;
    make_evidence(out, ref, ordinal);
    return out;
}
// Prefix of all links of a thing, seen from it.
inline std::string links(EntityId thing) { return with_number('o', thing.value); }
inline void make_link_from(std::string& out, ClaimRef ref, EntityId object) {
    make_with_number(out, 'o', ref.subject.value);
    append_big32(out, ref.relation.value);
    out += '\0';
    append_big64(out, ref.number);
    append_big64(out, object.value);
}
inline std::string link_from(ClaimRef ref, EntityId object) {
    std::string out;
    make_link_from(out, ref, object);
    return out;
}
inline void make_link_to(std::string& out, EntityId object, ClaimRef ref) {
    make_with_number(out, 'o', object.value);
    append_big32(out, ref.relation.value);
    out += '\1';
    append_big64(out, ref.subject.value);
    append_big64(out, ref.number);
}
inline std::string link_to(EntityId object, ClaimRef ref) {
    std::string out;
    make_link_to(out, object, ref);
    return out;
}
inline void make_content(std::string& out, const ContentId& id) {
    out.assign(1, 'x');
    out.append(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size());
}
inline std::string content(const ContentId& id) {
    std::string out;
    make_content(out, id);
    return out;
}
inline std::string file(const ContentId& digest) {
    std::string out = content(digest);
    out[0] = 'f';
    return out;
}
inline std::string by_source(EntityId source) { return with_number('y', source.value); }
inline void make_by_source(std::string& out, EntityId source, ClaimRef ref, std::uint32_t ordinal) {
    make_with_number(out, 'y', source.value);
    append(out, ref);
    append_big32(out, ordinal);
}
inline std::string by_source(EntityId source, ClaimRef ref, std::uint32_t ordinal) {
    std::string out;
    make_by_source(out, source, ref, ordinal);
    return out;
}
inline std::string corrections(const ContentId& corrected) {
    std::string out = content(corrected);
    out[0] = 'z';
    return out;
}
inline std::string correction(const ContentId& corrected, ClaimRef ref, std::uint32_t ordinal) {
    std::string out = corrections(corrected);
    append(out, ref);
    append_big32(out, ordinal);
    return out;
}
inline std::string lists(EntityId subject) { return with_number('l', subject.value); }
inline std::string lists(EntityId subject, RelationId relation) {
    std::string out = lists(subject);
    append_big32(out, relation.value);
    return out;
}
inline std::string list(EntityId subject, RelationId relation, std::uint64_t number) {
    std::string out = lists(subject, relation);
    append_big64(out, number);
    return out;
}
inline std::string arguments(ClaimRef conclusion) { return with_claim('a', conclusion); }
inline std::string argument(ClaimRef conclusion, std::uint64_t number) {
    std::string out = arguments(conclusion);
    append_big64(out, number);
    return out;
}
inline std::string premises(ClaimRef premise) { return with_claim('p', premise); }
inline std::string premise(ClaimRef premise, ClaimRef conclusion, std::uint64_t number) {
    std::string out = premises(premise);
    append(out, conclusion);
    append_big64(out, number);
    return out;
}
inline std::string rulings(ClaimRef ref) { return with_claim('r', ref); }
inline std::string ruling(ClaimRef ref, std::uint64_t number) {
    std::string out = rulings(ref);
    append_big64(out, number);
    return out;
}
inline std::string words(std::string_view folded) { return "t" + std::string(folded); }
// What stands behind a word: where it was found.
inline void append_word_place(std::string& out, EntityId id, std::uint8_t field) {
    out += '\0';
    out += 'e';
    append_big64(out, id.value);
    out += static_cast<char>(field);
}
inline void append_word_place(std::string& out, ClaimRef ref, std::uint8_t field) {
    out += '\0';
    out += 'c';
    append_big40(out, ref.subject.value);
    out += static_cast<char>(ref.relation.value >> 8);
    out += static_cast<char>(ref.relation.value);
    append_big40(out, ref.number);
    out += static_cast<char>(field);
}
// Reads what stands behind the "c" of a word's place, without the field.
inline ClaimRef read_word_claim(Bytes& bytes) {
    ClaimRef ref;
    ref.subject.value = bytes.big40();
    ref.relation.value = (std::uint32_t{bytes.byte()} << 8);
    ref.relation.value |= bytes.byte();
    ref.number = bytes.big40();
    return ref;
}

// Where the record that a content id names lies.
inline std::string record(const RecordPlace& place) {
    switch (place.type) {
        case RecordPlace::Type::claim:
            return claim(place.claim);
        case RecordPlace::Type::evidence:
            return evidence(place.claim, static_cast<std::uint32_t>(place.number));
        case RecordPlace::Type::list:
            return list(place.claim.subject, place.claim.relation, place.number);
        case RecordPlace::Type::argument:
            return argument(place.claim, place.number);
        case RecordPlace::Type::ruling:
            return ruling(place.claim, place.number);
    }
    throw StoreFault("an id names no kind of record", "run `saggar check`");
}

// Reads what stands behind the thing of a link.
inline Link read_link(EntityId thing, Bytes& bytes) {
    Link link;
    link.claim.relation.value = bytes.big32();
    link.forward = bytes.byte() == 0;
    if (link.forward) {
        link.claim.subject = thing;
        link.claim.number = bytes.big64();
        link.other.value = bytes.big64();
    } else {
        link.other.value = bytes.big64();
        link.claim.subject = link.other;
        link.claim.number = bytes.big64();
    }
    return link;
}

// Reads 20 bytes.
inline ClaimRef read_claim(Bytes& bytes) {
    ClaimRef ref;
    ref.subject.value = bytes.big64();
    ref.relation.value = bytes.big32();
    ref.number = bytes.big64();
    return ref;
}

}  // namespace saggar::keys
