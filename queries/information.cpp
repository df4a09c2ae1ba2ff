#include "queries/information.h"

#include <algorithm>
#include <cmath>

namespace saggar {

double entropy(const std::vector<double>& weights) {
    double sum = 0, bits = 0;
    for (const double weight : weights) sum += weight;
    if (sum <= 0) return 0;
    for (const double weight : weights)
        if (weight > 0) bits -= weight / sum * std::log2(weight / sum);
    return std::max(0.0, bits);
}

double information_gain(const std::vector<double>& prior, const std::vector<std::vector<double>>& answers) {
    double sum = 0, left = 0;
    for (const double weight : prior) sum += weight;
    if (sum <= 0) return 0;
    for (const auto& chances : answers) {
        std::vector<double> after(prior.size());
        double chance = 0;
        for (std::size_t i = 0; i < prior.size(); ++i) chance += after[i] = prior[i] / sum * chances[i];
        left += chance * entropy(after);
    }
    return std::max(0.0, entropy(prior) - left);
}

}  // namespace saggar
