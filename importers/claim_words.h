// A claim as a person writes it, typed by what the vocabulary says of its relation.
//
// "piece:jug-4", "made-in-year", "ca. 1935" becomes a claim with a date object, 1935~; "item:jug", "capacity", "1.2 l"
// one with a number and a unit. The inverse name of a relation turns subject and object round; a symmetric relation has
// the smaller key first: the same proposition always becomes the same claim. Whether subject and object are of the
// right kind is checked later, by CheckedSink, for every format alike.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "importers/sink.h"
#include "kg/model/vocabulary.h"

namespace saggar {

// Trimmed or not; empty: not said.
struct ClaimWords {
    std::string_view subject;
    std::string_view relation;
    std::string_view object;
    std::string_view scope;
    std::string_view when;
};

// Nothing where a word cannot be read; the problems stand at the places `origin` gives for the fields named as above.
std::optional<Claim> claim_of_words(const ClaimWords& words, const Vocabulary& vocabulary, const Origin& origin,
                                    Problems& problems);

// The object alone.
std::optional<Value> value_of_words(std::string_view text, const Relation& relation, const Origin& origin,
                                    Problems& problems);

// EDTF, or a date as people write it, into EDTF. Of several dates in one text ("designed 1945, made 1946-49") the one
// whose label the relation's name starts with. `field` names the place for problems.
std::optional<std::string> date_of_words(std::string_view text, std::string_view relation, std::string_view field,
                                         const Origin& origin, Problems& problems);

// "subject relation object", the object being all the rest: how claims are named on a command line and as premises.
std::optional<Claim> claim_of_sentence(std::string_view sentence, const Vocabulary& vocabulary, const Origin& origin,
                                       Problems& problems);

}  // namespace saggar
