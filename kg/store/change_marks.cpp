// Several entries in one change, and the marks of records that are not part of what they say.
#include "kg/model/recorders.h"
#include "kg/store/change_state.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

// Reads the row of a record, lets `edit` change its marks, and writes it again where that returns true.
template <typename Row, typename Edit>
bool edit_row(Change::State& state, const RecordPlace& place, Edit edit) {
    const std::string key = keys::record(place);
    const auto value = state.stored(key);
    if (!value) return false;  // put in this very change, and not to be read again
    Row row;
    decode(*value, row);
    if (!edit(row)) return false;
    state.overwrite(key, encode(row));
    return state.touched = true;
}

template <typename Edit>
bool edit_any_row(Change::State& state, const RecordPlace& place, Edit edit) {
    switch (place.type) {
        case RecordPlace::Type::claim:
            return edit_row<ClaimRow>(state, place, edit);
        case RecordPlace::Type::evidence:
            return edit_row<EvidenceRow>(state, place, edit);
        case RecordPlace::Type::list:
            return edit_row<ListingRow>(state, place, edit);
        case RecordPlace::Type::argument:
            return edit_row<ArgumentRow>(state, place, edit);
        case RecordPlace::Type::ruling:
            return edit_row<RulingRow>(state, place, edit);
    }
    return false;
}

}  // namespace

void Change::follow_with(const ChangeHead& head) {
    State& state = *state_;
    const bool is_empty = counts().all() == 0 && !state.has_document && !state.touched;
    if (!is_empty) {
        const std::uint64_t number = state.entry.number + 1;
        state.finish_entry();
        state.entry = Entry{};
        state.entry.number = number;
        state.has_document = state.touched = false;
    }
    state.following = state.replaying = state.of_withdrawn = true;
    state.begin(head);
}

void Change::speak_of_withdrawn() { state_->of_withdrawn = true; }

std::uint64_t Change::turns_of(const ContentId& id) const {
    const auto place = state_->place_of(id);
    const auto value = place ? state_->stored(keys::record(*place)) : std::nullopt;
    if (!value) return 0;
    std::uint64_t turns = 0;
    for (const Span& span : read_spans(*value)) turns += span.until ? 2 : 1;
    return turns;
}

bool Change::make_public(const ContentId& id) {
    const auto place = state_->place_of(id);
    if (!place) return false;
    return edit_any_row(*state_, *place, [](auto& row) {
        const bool was_private = row.is_private;
        row.is_private = false;
        return was_private;
    });
}

bool Change::recorded_also(const ContentId& id, const std::string& by, const std::string& on) {
    const auto place = state_->place_of(id);
    if (!place) return false;
    const auto edit = [&](auto& row) { return add_recorder(row.recorded_by, row.recorded_on, by, on); };
    switch (place->type) {
        case RecordPlace::Type::evidence:
            return edit_row<EvidenceRow>(*state_, *place, edit);
        case RecordPlace::Type::list:
            return edit_row<ListingRow>(*state_, *place, edit);
        case RecordPlace::Type::argument:
            return edit_row<ArgumentRow>(*state_, *place, edit);
        default:
            return false;
    }
}

}  // namespace saggar
