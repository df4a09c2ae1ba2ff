// Who copied whom: sources and the sources they were taken from.
//
// Read from the sources' own `copied_from` and from claims `copied-from`. Roots stand on top; a copy below adds
// nothing to its root's word. Cost: one pass over the sources, or the relatives of one source.
#pragma once

#include <optional>

#include "viz/draft.h"

namespace saggar::viz {

// `about`: only the relatives of this source, in both directions; empty: all sources that copy or were copied.
Diagram copying(const Snapshot& snapshot, std::optional<EntityId> about, DraftOptions draft);

}  // namespace saggar::viz
