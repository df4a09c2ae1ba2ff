#include "viz/diagram.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"

namespace saggar::viz {

namespace {

void check_numbers(const Diagram& diagram, const std::vector<int>& numbers) {
    for (const int number : numbers) {
        const bool known = std::any_of(diagram.citations.begin(), diagram.citations.end(),
                                       [number](const Citation& citation) { return citation.number == number; });
        if (!known) {
            throw UsageFault(fmt::format("the diagram names citation {} but has none of that number", number),
                             "number the citations before the diagram is drawn");
        }
    }
}

}  // namespace

void check(const Diagram& diagram) {
    for (const auto& node : diagram.nodes) check_numbers(diagram, node.citations);
    for (const auto& edge : diagram.edges) {
        if (edge.from >= diagram.nodes.size() || edge.to >= diagram.nodes.size()) {
            throw UsageFault(fmt::format("a line of the diagram joins box {} and box {} of {}", edge.from, edge.to,
                                         diagram.nodes.size()),
                             "add the boxes before the lines");
        }
        check_numbers(diagram, edge.cited_for);
        check_numbers(diagram, edge.cited_against);
    }
}

}  // namespace saggar::viz
