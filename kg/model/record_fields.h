// The fields of each record under the names they have outside: one list for everything that reads or writes them.
//
// A visitor is called as `visit(name, field, need)` for each field, sorted by name, and as `visit.own_id(record)` at
// its place in that order for the records that have a content id. `need` says whether a reader must find the field.
#pragma once

#include <concepts>
#include <string_view>
#include <type_traits>

#include "kg/model/record.h"

namespace saggar {

enum class Need : std::uint8_t { optional, required };

template <class R, class Plain>
concept RecordOf = std::same_as<std::remove_const_t<R>, Plain>;

// The one word under which a record stands in a file.
constexpr std::string_view record_word(const Entity*) {
    return "entity";
}
constexpr std::string_view record_word(const Source*) {
    return "source";
}
constexpr std::string_view record_word(const Claim*) {
    return "claim";
}
constexpr std::string_view record_word(const Evidence*) {
    return "evidence";
}
constexpr std::string_view record_word(const Listing*) {
    return "list";
}
constexpr std::string_view record_word(const Argument*) {
    return "argument";
}
constexpr std::string_view record_word(const Ruling*) {
    return "ruling";
}
constexpr std::string_view record_word(const Withdrawal*) {
    return "withdrawal";
}

template <class V, RecordOf<Entity> R>
void each_field(R& entity, V& visit) {
    visit("also", entity.also, Need::optional);
    visit("identifiers", entity.identifiers, Need::optional);
    visit("image", entity.image, Need::optional);
    visit("key", entity.key, Need::required);
    visit("label", entity.label, Need::optional);
    visit("private", entity.is_private, Need::optional);
    visit("remark", entity.remark, Need::optional);
}

template <class V, RecordOf<Source> R>
void each_field(R& source, V& visit) {
    visit("archive", source.archive, Need::optional);
    visit("author", source.author, Need::optional);
    visit("box", source.box, Need::optional);
    visit("collection", source.collection, Need::optional);
    visit("copied_from", source.copied_from, Need::optional);
    visit("dependence", source.dependence, Need::optional);
    visit("family", source.family, Need::optional);
    visit("family_kind", source.family_kind, Need::optional);
    visit("folder", source.folder, Need::optional);
    visit("grade", source.grade, Need::optional);
    visit("issued", source.issued, Need::optional);
    visit("key", source.key, Need::required);
    visit("more", source.more, Need::optional);
    visit("place", source.place, Need::optional);
    visit("private", source.is_private, Need::optional);
    visit("reliability", source.reliability, Need::optional);
    visit("rights", source.rights, Need::optional);
    visit("title", source.title, Need::optional);
    visit("tolerance", source.tolerance_years, Need::optional);
    visit("type", source.type, Need::optional);
    visit("url", source.url, Need::optional);
}

template <class V, RecordOf<Claim> R>
void each_field(R& claim, V& visit) {
    visit.own_id(claim);
    visit("object", claim.object, Need::required);
    visit("private", claim.is_private, Need::optional);
    visit("relation", claim.relation, Need::required);
    visit("scope", claim.scope, Need::optional);
    visit("subject", claim.subject, Need::required);
    visit("when", claim.when, Need::optional);
}

template <class V, RecordOf<Evidence> R>
void each_field(R& evidence, V& visit) {
    visit("at", evidence.at, Need::optional);
    visit("certainty", evidence.certainty, Need::optional);
    visit("claim", evidence.claim, Need::required);
    visit("corrects", evidence.corrects, Need::optional);
    visit.own_id(evidence);
    visit("mention", evidence.mention, Need::optional);
    visit("private", evidence.is_private, Need::optional);
    visit("quote", evidence.quote, Need::optional);
    visit("reading", evidence.reading, Need::optional);
    visit("recorded_by", evidence.recorded_by, Need::optional);
    visit("recorded_on", evidence.recorded_on, Need::optional);
    visit("remark", evidence.remark, Need::optional);
    visit("source", evidence.source, Need::required);
    visit("stance", evidence.stance, Need::required);
}

template <class V, RecordOf<Listing> R>
void each_field(R& listing, V& visit) {
    visit("at", listing.at, Need::optional);
    visit("completeness", listing.completeness, Need::required);
    visit.own_id(listing);
    visit("private", listing.is_private, Need::optional);
    visit("quote", listing.quote, Need::optional);
    visit("recorded_by", listing.recorded_by, Need::optional);
    visit("recorded_on", listing.recorded_on, Need::optional);
    visit("relation", listing.relation, Need::required);
    visit("remark", listing.remark, Need::optional);
    visit("scope", listing.scope, Need::optional);
    visit("source", listing.source, Need::required);
    visit("subject", listing.subject, Need::required);
    visit("when", listing.when, Need::optional);
}

template <class V, RecordOf<Argument> R>
void each_field(R& argument, V& visit) {
    visit("conclusion", argument.conclusion, Need::required);
    visit.own_id(argument);
    visit("premises", argument.premises, Need::optional);
    visit("private", argument.is_private, Need::optional);
    visit("reason", argument.reason, Need::optional);
    visit("recorded_by", argument.recorded_by, Need::optional);
    visit("recorded_on", argument.recorded_on, Need::optional);
    visit("rule", argument.rule, Need::optional);
    visit("stance", argument.stance, Need::required);
    visit("strength", argument.strength, Need::required);
}

template <class V, RecordOf<Ruling> R>
void each_field(R& ruling, V& visit) {
    visit("claim", ruling.claim, Need::required);
    visit("decided_by", ruling.decided_by, Need::optional);
    visit("decided_on", ruling.decided_on, Need::optional);
    visit("decision", ruling.decision, Need::required);
    visit.own_id(ruling);
    visit("looked_at", ruling.looked_at, Need::optional);
    visit("private", ruling.is_private, Need::optional);
    visit("reasons", ruling.reasons, Need::optional);
}

template <class V, RecordOf<Withdrawal> R>
void each_field(R& withdrawal, V& visit) {
    visit("of", withdrawal.of, Need::required);
    visit("reason", withdrawal.reason, Need::optional);
}

}  // namespace saggar
