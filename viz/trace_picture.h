// A trace as a picture: its chains in one diagram, the answer in words above it.
#pragma once

#include "queries/trace.h"
#include "viz/chain.h"

namespace saggar::viz {

// The snapshot is the one the trace was asked of.
Diagram trace_picture(const Snapshot& snapshot, const TraceAnswer& answer, DraftOptions draft);

}  // namespace saggar::viz
