// Sources and evidence of a graph as citations.
#pragma once

#include "kg/store/snapshot.h"
#include "queries/cite.h"
#include "queries/cite_notes.h"

namespace saggar {

// The source record; where nobody has described the source, one made of its key and label.
Source source_of(const Snapshot& snapshot, EntityId id);

// The full note of one piece of evidence, with the hedges a reader must know: "(probably)", "(at second hand)", "(is
// silent about it)".
CitedText evidence_note(const Snapshot& snapshot, const EvidenceRow& row, const CiteStyle& style = {});
// The same with the source's short note.
CitedText evidence_note_short(const Snapshot& snapshot, const EvidenceRow& row, const CiteStyle& style = {});
// A list that leaves the object out: the source, and what it lists.
CitedText listing_note(const Snapshot& snapshot, const ListingRow& row, const CiteStyle& style = {});

// The words for how a reading is given; empty for a plain direct statement.
std::string manner_of(const EvidenceRow& row);

}  // namespace saggar
