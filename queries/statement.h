// Claims and evidence as sentences.
#pragma once

#include <string>

#include "kg/store/snapshot.h"

namespace saggar {

// "Northern was commissioned by Northern Provident (for …, 1936)".
std::string statement(const Snapshot& snapshot, const ClaimRow& claim);
// Scope and time of a claim: "for Northern Provident, 1936"; empty where it has none.
std::string limits_words(const Snapshot& snapshot, const ClaimRow& claim);
// The relation in words, seen from the subject: "was commissioned by".
std::string relation_words(const Snapshot& snapshot, RelationId relation);
// The object in words: label or value.
std::string object_words(const Snapshot& snapshot, const ClaimRow& claim);
// "Memo of 3 May, p. 2: \"for the Northern people\" (probably)". A short form; full citations are for `cite`.
std::string evidence_words(const Snapshot& snapshot, const EvidenceRow& row);

}  // namespace saggar
