// Which question a claim answers about a thing; a dossier is ordered by these.
#pragma once

#include <string_view>

#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"

namespace saggar::viz {

enum class Question { who, when, belongs, decoration, telling, pieces, where, figures, documents };

// In the order they stand in a dossier.
inline constexpr Question kQuestions[] = {Question::who,        Question::when,    Question::belongs,
                                          Question::decoration, Question::telling, Question::pieces,
                                          Question::where,      Question::figures, Question::documents};

std::string_view heading_of(Question question);

// `other`: the claim's end that is not the thing. Told by its kind, or by the class its kind is mapped to, so kinds
// of another vocabulary find their place too.
Question question_of(const Snapshot& snapshot, const ClaimRow& claim, EntityId thing);

}  // namespace saggar::viz
