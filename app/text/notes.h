// Numbered citations under an answer: the first mention of a source in full, later ones short.
#pragma once

#include <ostream>

#include "app/text/layout.h"
#include "kg/store/snapshot.h"
#include "queries/cite_notes.h"

namespace saggar::app {

class NoteList {
public:
    explicit NoteList(const Snapshot& graph) : graph_(graph) {}

    // The number of this reading's note, from 1; equal mentions share one.
    int number_of(const EvidenceRow& row);
    int number_of(const ListingRow& row);
    // The source as a whole, without a place in it.
    int number_of(EntityId source);
    const Notes& notes() const { return notes_; }
    void write(std::ostream& out, const Layout& layout) const;

private:
    const Snapshot& graph_;
    Notes notes_;
};

}  // namespace saggar::app
