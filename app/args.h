// From the words of the command line to a verb's run, and from its result to an exit status.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "app/verb.h"

namespace saggar::app {

// All verbs, in the order of the manual.
const std::vector<Verb>& verbs();

// Runs the program. Never throws: faults are written to `err` with their next step.
int run(const std::vector<std::string>& words, std::ostream& out, std::ostream& err);

}  // namespace saggar::app
