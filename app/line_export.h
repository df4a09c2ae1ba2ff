// The graph as JSON Lines with its whole history.
#pragma once

#include <cstdint>
#include <ostream>

#include "kg/store/snapshot.h"

namespace saggar::app {

// Writes entries `from` to the snapshot's. Private records, and whatever would name them, stay out unless asked for; how
// many stayed out. What is marked private now is left out also where it was recorded before it was marked.
std::size_t write_lines(const Snapshot& graph, std::uint64_t from, std::ostream& out, bool with_private);

}  // namespace saggar::app
