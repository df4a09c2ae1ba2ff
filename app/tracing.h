// The options of `trace`, shared with `draw trace` and `cite`.
#pragma once

#include <string>
#include <vector>

#include "app/verb.h"
#include "queries/trace.h"

namespace saggar::app {

std::vector<Option> trace_options();

// The question the options ask. `from`: the name of the operand that holds the start. UsageFault with the next step.
TraceQuestion trace_question(const Call& call, const Snapshot& graph, const std::string& from);

}  // namespace saggar::app
