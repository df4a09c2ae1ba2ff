// The words of the JSON form that the writer and the reader share, and the fields of an entry line.
#pragma once

#include <string_view>

#include "kg/model/record_fields.h"
#include "kg/model/record_json.h"

namespace saggar {

constexpr std::string_view record_word(const EntryHeader*) {
    return "entry";
}

constexpr std::string_view record_word(const DocumentLine*) {
    return "document";
}

// In the order of the enumerations.
inline constexpr std::string_view json_value_words[] = {"entity", "text", "number", "date"};
inline constexpr std::string_view json_stance_words[] = {"for", "against"};
inline constexpr std::string_view json_decision_words[] = {"accepted", "rejected", "left-open"};

template <class V, RecordOf<EntryHeader> R>
void each_field(R& entry, V& visit) {
    visit("author", entry.author, Need::optional);
    visit("number", entry.number, Need::required);
    visit("reason", entry.reason, Need::optional);
    visit("time", entry.time, Need::optional);
    visit("verb", entry.verb, Need::optional);
}

template <class V, RecordOf<DocumentLine> R>
void each_field(R& document, V& visit) {
    visit("name", document.name, Need::required);
    visit("text", document.text, Need::required);
}

}  // namespace saggar
