#include "tests/kg/weigh/brute_force.h"

namespace saggar::weighing {

std::vector<double> by_brute_force(const Lineage& lineage, std::span<const Event> roots, std::span<const double> chances) {
    std::vector<double> sums(roots.size(), 0.0);
    std::vector<char> holds(lineage.nodes(), 1);
    const auto is = [&](Event event) { return (holds[event.node()] != 0) != event.negated(); };
    for (std::uint64_t world = 0; world < std::uint64_t{1} << lineage.variables(); ++world) {
        double probability = 1;
        for (std::uint32_t node = 1; node < lineage.nodes(); ++node) {
            if (lineage.is_variable(node)) {
                const std::uint32_t variable = lineage.variable(node);
                holds[node] = static_cast<char>(world >> variable & 1);
                probability *= holds[node] ? chances[variable] : 1 - chances[variable];
                continue;
            }
            holds[node] = 1;
            for (const Event input : lineage.inputs(node)) holds[node] = holds[node] && is(input);
        }
        for (std::size_t i = 0; i < roots.size(); ++i) sums[i] += is(roots[i]) ? probability : 0;
    }
    return sums;
}

}  // namespace saggar::weighing
