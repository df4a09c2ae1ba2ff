// How much an answer is expected to tell between rivals, in bits.
//
// Entropy and information gain (mutual information) after Shannon, "A mathematical theory of communication" (1948); the
// gain as the measure of what to look at next after Quinlan, "Induction of decision trees" (1986). A chance of 0 adds nothing.
#pragma once

#include <vector>

namespace saggar {

// Of weights that need not sum to 1; 0 where all are 0.
double entropy(const std::vector<double>& weights);

// The expected fall of the entropy of the rivals when the answer is known: `prior[i]` the weight of rival i,
// `answers[a][i]` the chance of answer a where rival i is the one; over all answers these sum to 1 for each rival.
double information_gain(const std::vector<double>& prior, const std::vector<std::vector<double>>& answers);

}  // namespace saggar
