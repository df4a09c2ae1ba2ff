#include "kg/store/change.h"

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/store/change_state.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

void take(std::string& mine, const std::string& theirs) {
    if (!theirs.empty()) mine = theirs;
}

template <typename Item>
void unite(std::vector<Item>& mine, const std::vector<Item>& theirs) {
    for (const Item& item : theirs)
        if (std::find(mine.begin(), mine.end(), item) == mine.end()) mine.push_back(item);
}

Entity united(Entity mine, const Entity& theirs) {
    if (!theirs.label.text.empty()) mine.label = theirs.label;
    unite(mine.also, theirs.also);
    std::erase(mine.also, mine.label);
    take(mine.remark, theirs.remark);
    take(mine.image, theirs.image);
    unite(mine.identifiers, theirs.identifiers);
    mine.is_private = mine.is_private || theirs.is_private;
    return mine;
}

Source united(Source mine, const Source& theirs) {
    for (std::string Source::*field :
         {&Source::title, &Source::type, &Source::grade, &Source::family, &Source::family_kind, &Source::issued,
          &Source::author, &Source::archive, &Source::place, &Source::collection, &Source::box, &Source::folder,
          &Source::rights, &Source::url})
        take(mine.*field, theirs.*field);
    if (theirs.reliability) mine.reliability = theirs.reliability;
    if (theirs.dependence) mine.dependence = theirs.dependence;
    if (theirs.tolerance_years) mine.tolerance_years = theirs.tolerance_years;
    for (const Copy& copy : theirs.copied_from) {
        std::erase_if(mine.copied_from, [&](const Copy& known) { return known.of == copy.of; });
        mine.copied_from.push_back(copy);
    }
    std::sort(mine.copied_from.begin(), mine.copied_from.end(),
              [](const Copy& a, const Copy& b) { return a.of < b.of; });
    for (const auto& [name, text] : theirs.more) {
        std::erase_if(mine.more, [&name = name](const auto& known) { return known.first == name; });
        mine.more.emplace_back(name, text);
    }
    std::sort(mine.more.begin(), mine.more.end());
    mine.is_private = mine.is_private || theirs.is_private;
    return mine;
}

// The fields in force now, counting this change.
std::optional<std::string> fields_now(const Change::State& state, EntityId id, char family) {
    const auto& pending = family == 'e' ? state.entity_fields : state.source_fields;
    if (const std::string* changed = pending.find(id.value)) return *changed;
    if (id.value >= state.first_new_entity && !state.replaying) return std::nullopt;
    const auto value = state.stored(keys::with_number(family, id.value));
    std::string_view fields;
    if (!value || !version_at(*value, state.entry.number, fields)) return std::nullopt;
    return std::string(fields);
}

void index_entity(Change::State& state, EntityId id, const Entity& entity) {
    state.queue.words(entity.label.text, id, FoundWord::label);
    for (const Name& name : entity.also) state.queue.words(name.text, id, FoundWord::also);
    state.queue.words(entity.remark, id, FoundWord::remark);
    state.pass_on_queue();
}

Put put_entity(Change::State& state, const Entity& wanted, bool all_fields) {
    const EntityId id = state.intern(wanted.key);
    Entity before;
    const auto fields = fields_now(state, id, 'e');
    if (fields) decode(*fields, before);
    before.key = wanted.key;
    const Entity after = all_fields ? wanted : united(before, wanted);
    const bool is_new = id.value >= state.first_new_entity;
    if (fields && after == before) return Put::already_there;
    state.entity_fields.put(id.value, encode(after));
    index_entity(state, id, after);
    return is_new && before.label.text.empty() ? Put::added : Put::changed;
}

Put put_source(Change::State& state, const Source& wanted, bool all_fields) {
    const EntityId id = state.intern(wanted.key);
    Source before;
    const auto fields = fields_now(state, id, 's');
    if (fields) decode(*fields, before);
    before.key = wanted.key;
    const Source after = all_fields ? wanted : united(before, wanted);
    if (fields && after == before) return Put::already_there;
    for (const Copy& copy : after.copied_from) state.intern(copy.of);
    state.source_fields.put(id.value, encode(after));
    for (const std::string* text : {&after.title, &after.author, &after.collection})
        state.queue.words(*text, id, FoundWord::title);
    state.pass_on_queue();
    return fields ? Put::changed : Put::added;
}

// The spans of a withdrawn record that comes into force again. An entry either withdraws or records, so that it can be replayed.
Spans revived(std::string_view value, std::uint64_t entry) {
    Spans spans = read_spans(value);
    if (!spans.empty() && spans.back().until == entry)
        throw UsageFault("this change withdraws the record that it puts", "record it again in a change of its own");
    spans.push_back(Span{entry, 0});
    return spans;
}

// For a record that is in force already: put without the mark of a private one, it loses that mark.
template <typename Marked>
Put made_public(Change& change, const Marked& record, const ContentId& id) {
    return !record.is_private && change.make_public(id) ? Put::changed : Put::already_there;
}

// The same for one put as private in this very change: it is written again.
template <typename Row>
Put made_public_here(Change::State& state, Row& row, const std::string& key) {
    if (row.is_private || state.private_records.erase(row.id) == 0) return Put::already_there;
    row.spans = {Span{state.entry.number, 0}};
    state.overwrite(key, encode(row));
    return Put::changed;
}

// Lists, arguments and rulings: in the graph already, to be revived, or new under a fresh number.
template <typename Row, typename KeyOf>
Put put_numbered(Change& change, Change::State& state, Row& row, RecordPlace::Type type, ClaimRef about, std::uint64_t& count,
                 KeyOf key_of) {
    if (const auto place = state.place_of(row.id)) {
        row.number = place->number;
        const std::string key = key_of(place->number);
        const auto value = state.stored(key);
        if (!value) return made_public_here(state, row, key);
        if (value_in_force(*value, state.entry.number)) return made_public(change, row, row.id);
        row.spans = revived(*value, state.entry.number);
        state.overwrite(key, encode(row));
        ++count;
        return Put::added;
    }
    row.number = state.next_record++;
    row.spans = {Span{state.entry.number, 0}};
    state.emit(key_of(row.number), encode(row));
    const RecordPlace place{type, about, row.number};
    state.queue.key(keys::content(row.id), encode(place));
    state.records.insert(row.id, place);
    if (row.is_private) state.private_records.insert(row.id);
    ++count;
    return Put::added;
}

}  // namespace

Change::Change(std::shared_ptr<Database> db, ChangeHead head, std::filesystem::path incoming)
    : state_(std::make_unique<State>(std::move(db), std::move(head), std::move(incoming))) {}
Change::Change(Change&&) noexcept = default;
Change& Change::operator=(Change&&) noexcept = default;
Change::~Change() = default;

Put Change::put(const Record& record) {
    return std::visit([this](const auto& one) { return put(one); }, record);
}

Put Change::put(const Entity& entity) {
    return put_entity(state_->relieved(), entity, false);
}
Put Change::replace(const Entity& entity) {
    return put_entity(state_->relieved(), entity, true);
}
Put Change::put(const Source& source) {
    return put_source(state_->relieved(), source, false);
}
Put Change::replace(const Source& source) {
    return put_source(state_->relieved(), source, true);
}

Put Change::put(const Claim& claim) {
    State& state = state_->relieved();
    const bool links = claim.object.type == Value::Type::entity;
    const auto subject = state.entities.probe(claim.subject);
    const auto object = links ? state.entities.probe(claim.object.text) : NameTable::Probe{};
    ClaimRow row;
    row.id = id_of(claim);
    state.claims.fetch(row.id);
    state.entities.fetch_text(subject);
    if (links) state.entities.fetch_text(object);
    const State::PendingClaim* pending = state.pending_claim(row.id);
    if (pending && !state.withdrawn_by_now(keys::claim(pending->ref)) && (claim.is_private || state.private_claims.erase(row.id) == 0))
        return made_public(*this, claim, row.id);
    row.object_type = claim.object.type;
    row.scope = claim.scope;
    row.when = claim.when;
    row.is_private = claim.is_private;
    const auto place = pending ? std::optional(RecordPlace{RecordPlace::Type::claim, pending->ref, 0}) : state.place_before(row.id);
    std::optional<std::string> before;
    if (place) {
        before = state.stored(keys::claim(place->claim));
        if (before && value_in_force(*before, state.entry.number)) return made_public(*this, claim, row.id);
        row.ref = place->claim;
        if (before) row.spans = revived(*before, state.entry.number);
    } else {
        row.ref = ClaimRef{state.intern(subject), state.intern_relation(claim.relation), state.next_claim++};
    }
    if (links) {
        row.object = state.intern(object);
    } else {
        row.object_text = claim.object.text;
        row.object_unit = claim.object.unit;
    }
    if (!claim.scope.empty()) state.intern(claim.scope);
    if (!before) row.spans = {Span{state.entry.number, 0}};
    if (before || place) {  // without a value before: put in this change, as a private one
        state.overwrite(keys::claim(row.ref), encode(row));
        if (!before) return Put::changed;
    } else {
        state.emit(keys::claim(row.ref), encode(row));
        state.claims.insert(row.id, {row.ref, 1});
        if (row.is_private) state.private_claims.insert(row.id);
    }
    ++state.entry.counts.claims;
    return Put::added;
}

Put Change::put(const Evidence& evidence) {
    State& state = state_->relieved();
    const auto source = state.entities.probe(evidence.source);
    EvidenceRow row;
    row.id = id_of(evidence);
    state.records.fetch(row.id);
    state.entities.fetch_text(source);
    std::uint32_t* next_ordinal = nullptr;
    row.claim = state.need_claim(evidence.claim, &next_ordinal);
    row.source = state.intern(source);
    const auto place = state.place_of_evidence(row.id);
    row.stance = evidence.stance;
    row.at = evidence.at;
    row.quote = evidence.quote;
    row.certainty = evidence.certainty;
    row.reading = evidence.reading;
    row.mention = evidence.mention;
    row.corrects = evidence.corrects;
    row.remark = evidence.remark;
    row.recorded_by = evidence.recorded_by;
    row.recorded_on = evidence.recorded_on;
    row.is_private = evidence.is_private;
    if (place) {
        row.ordinal = static_cast<std::uint32_t>(place->number);
        const std::string key = keys::evidence(row.claim, row.ordinal);
        const auto value = state.stored(key);  // nothing: put in this change
        if (!value) return made_public_here(state, row, key);
        if (value_in_force(*value, state.entry.number)) return made_public(*this, evidence, row.id);
        row.spans = revived(*value, state.entry.number);
        state.overwrite(key, encode(row));
    } else {
        row.ordinal = (*next_ordinal)++;
        row.spans = {Span{state.entry.number, 0}};
        state.emit(keys::evidence(row.claim, row.ordinal), encode(row));
        state.records.insert(row.id, RecordPlace{RecordPlace::Type::evidence, row.claim, row.ordinal});
        if (row.is_private) state.private_records.insert(row.id);
    }
    ++state.entry.counts.evidence;
    return Put::added;
}

Put Change::put(const Listing& listing) {
    State& state = state_->relieved();
    ListingRow row;
    row.id = id_of(listing);
    row.subject = state.intern(listing.subject);
    row.relation = state.intern_relation(listing.relation);
    row.source = state.intern(listing.source);
    row.scope = listing.scope;
    row.when = listing.when;
    row.completeness = listing.completeness;
    row.at = listing.at;
    row.quote = listing.quote;
    row.remark = listing.remark;
    row.recorded_by = listing.recorded_by;
    row.recorded_on = listing.recorded_on;
    row.is_private = listing.is_private;
    if (!listing.scope.empty()) state.intern(listing.scope);
    return put_numbered(*this, state, row, RecordPlace::Type::list, ClaimRef{row.subject, row.relation, 0},
                        state.entry.counts.lists,
                        [&](std::uint64_t number) { return keys::list(row.subject, row.relation, number); });
}

Put Change::put(const Argument& argument) {
    State& state = state_->relieved();
    ArgumentRow row;
    row.id = id_of(argument);
    row.conclusion = state.need_claim(argument.conclusion);
    for (const ContentId& premise : argument.premises) row.premises.push_back(state.need_claim(premise));
    row.stance = argument.stance;
    row.strength = argument.strength;
    row.reason = argument.reason;
    row.rule = argument.rule;
    row.recorded_by = argument.recorded_by;
    row.recorded_on = argument.recorded_on;
    row.is_private = argument.is_private;
    const Put done = put_numbered(*this, state, row, RecordPlace::Type::argument, row.conclusion, state.entry.counts.arguments,
                                  [&](std::uint64_t number) { return keys::argument(row.conclusion, number); });
    if (done == Put::added) {
        for (const ClaimRef& premise : row.premises) state.emit(keys::premise(premise, row.conclusion, row.number), {});
        state.queue.words(row.reason, row.conclusion, FoundWord::remark);
        state.pass_on_queue();
    }
    return done;
}

Put Change::put(const Ruling& ruling) {
    State& state = state_->relieved();
    RulingRow row;
    row.id = id_of(ruling);
    row.claim = state.need_claim(ruling.claim);
    row.decision = ruling.decision;
    row.reasons = ruling.reasons;
    row.looked_at = ruling.looked_at;
    row.decided_by = ruling.decided_by;
    row.decided_on = ruling.decided_on;
    row.is_private = ruling.is_private;
    return put_numbered(*this, state, row, RecordPlace::Type::ruling, row.claim, state.entry.counts.rulings,
                        [&](std::uint64_t number) { return keys::ruling(row.claim, number); });
}

Put Change::put(const Withdrawal& withdrawal) {
    State& state = *state_;
    const auto place = state.place_of(withdrawal.of);
    if (!place)
        throw UsageFault("there is no record " + withdrawal.of.brief() + " to withdraw",
                         "see `saggar history` for what was recorded");
    const std::string key = keys::record(*place);
    auto value = state.stored(key);
    Spans spans = value ? read_spans(*value) : Spans{};
    if (spans.empty() || !spans.back().holds_at(state.entry.number) || spans.back().since == state.entry.number)
        throw UsageFault("the record " + withdrawal.of.brief() + " is not in force",
                         "see `saggar history` for when it was withdrawn");
    spans.back().until = state.entry.number;
    std::string old_spans;
    append_spans(old_spans, read_spans(*value));
    std::string changed;
    append_spans(changed, spans);
    changed += value->substr(old_spans.size());
    state.overwrite(key, std::move(changed));
    state.entry.withdrawals.push_back(withdrawal);
    ++state.entry.counts.withdrawals;
    return Put::added;
}

void Change::put_document(std::string_view name, const std::string& text) {
    state_->emit(name == "vocabulary" ? keys::vocabulary(state_->entry.number) : keys::profile(state_->entry.number),
                 text);
    state_->has_document = true;
}

void Change::begin_entry(const ChangeHead& head, std::uint64_t number) {
    State& state = *state_;
    const std::uint64_t first = state.db->number("last-entry");
    const bool rewrites_start = !state.replaying && state.fresh && first == 1 && number == 1;
    if (!rewrites_start && (!state.replaying || number != state.entry.number + 1))
        throw UsageFault("entry " + std::to_string(number) +
                             " does not follow; a history can only be replayed whole, into an empty graph",
                         "make a new graph with `saggar start` and load the file there");
    if (state.replaying) state.finish_entry();
    state.replaying = state.of_withdrawn = true;
    state.entry = Entry{};
    state.entry.number = number;
    state.begin(head);
}

bool Change::has_claim(const ContentId& id) const {
    const auto place = state_->place_of(id);
    if (!place || place->type != RecordPlace::Type::claim) return false;
    if (state_->pending_claim(id)) return true;
    const auto value = state_->stored(keys::claim(place->claim));
    return value && value_in_force(*value, state_->entry.number);
}

// Sums of this entry so far.
const Entry::Counts& Change::counts() const {
    Entry::Counts& counts = state_->entry.counts;
    counts.entities = state_->entity_fields.size();
    counts.sources = state_->source_fields.size();
    return counts;
}

Entry Change::commit() {
    counts();
    return state_->commit();
}

}  // namespace saggar
