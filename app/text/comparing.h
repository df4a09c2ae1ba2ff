// A comparison as text: for each relation the objects, grouped by which things have them, never had them, and so on.
#pragma once

#include "app/text/notes.h"
#include "app/verb.h"
#include "queries/compare.h"

namespace saggar::app {

// `most`: how many objects are named in a row; `all_rows`: false, where a relation has many rows only the telling ones. Sources are cited as wholes: one for each cell and side, of a disputed
// cell two; the places in them are told by `saggar weigh` and by --json.
void write_comparison(Call& call, const Snapshot& graph, const CompareAnswer& answer, std::size_t most, bool all_rows,
                      NoteList& notes);

}  // namespace saggar::app
