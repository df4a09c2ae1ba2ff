// Rulings as text: the decision, by whom and why, and what has made it stale. Shared by `show`, `disputes` and `settle`.
#pragma once

#include "app/verb.h"
#include "kg/store/snapshot.h"
#include "queries/rulings.h"

namespace saggar::app {

// Private rulings are passed over; `indent` blanks stand before each line.
void write_rulings(Call& call, const Snapshot& graph, const std::vector<RulingStanding>& rulings, std::size_t indent);

}  // namespace saggar::app
