// Formal concepts: groups of things with exactly the features that they share.
//
// A concept is a set of things and a set of features such that the features are all those that the things have in common,
// and the things all those that have these features. Found one after another in lectic order, each once, by NextClosure
// (Ganter, "Two basic algorithms in concept analysis", 1984/2010; Ganter and Wille, "Formal Concept Analysis", 1999,
// section 2.1), over whichever side is smaller. Cost: for each concept at most |smaller side|^2 x |larger side| / 64 steps.
#pragma once

#include <cstddef>
#include <vector>

namespace saggar {

struct Concept {
    std::vector<std::size_t> things;    // ascending
    std::vector<std::size_t> features;  // ascending
    bool operator==(const Concept&) const = default;
};

struct Concepts {
    std::vector<Concept> found;  // most things first, then by things
    bool complete = true;        // false: there are more than were asked for
};

// `features_of[i]`: which of the features 0..features-1 thing i has; each once, in any order.
Concepts formal_concepts(const std::vector<std::vector<std::size_t>>& features_of, std::size_t features, std::size_t most);

}  // namespace saggar
