// The rules of a vocabulary applied to everything a graph holds already: what taking another vocabulary does.
//
// Afterwards the rule-made arguments in force are those that the rules draw from the claims in force, as if all of them had
// been loaded under these rules. Arguments that the rules no longer draw are withdrawn with a reason; those that a person
// withdrew stay withdrawn; claims stay, also such as no argument speaks for any more. A second sweep finds nothing to do.
// Cost: every claim whose relation a rule names is held in memory; time is that of a load of them.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "kg/store/change.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/rules.h"

namespace saggar {

struct RuleSweep {
    std::size_t drawn = 0;      // arguments put, new or again
    std::size_t withdrawn = 0;  // arguments
};

// Puts into `change`, which was begun on the graph `before`; does not commit. `reason` is that of the withdrawals.
// LimitFault, naming the rule, where the rules fire too often for a graph of this size.
RuleSweep sweep_rules(const Snapshot& before, const Vocabulary& vocabulary, const std::vector<Rule>& rules,
                      const std::string& reason, Change& change);

}  // namespace saggar
