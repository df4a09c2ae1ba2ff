#include "kg/weigh/truth_table.h"

#include <array>
#include <map>
#include <utility>

namespace saggar::weighing {

namespace {

// Column of leaf i: bit w says whether leaf i holds in world w. Leaf 0 changes slowest, so that it is looked at first.
constexpr std::array<std::uint64_t, 6> columns = {0xFFFFFFFF00000000ull, 0xFFFF0000FFFF0000ull, 0xFF00FF00FF00FF00ull,
                                                  0xF0F0F0F0F0F0F0F0ull, 0xCCCCCCCCCCCCCCCCull, 0xAAAAAAAAAAAAAAAAull};

class TableFolder {
public:
    explicit TableFolder(Diagram& diagram) : diagram_(diagram) {}

    // The node that answers `table`, which depends on leaves from `leaf` on only. Depth is at most six.
    std::uint32_t fold(std::uint64_t table, std::uint32_t leaf) {
        if (table == 0) return Diagram::no;
        if (table == ~std::uint64_t{0}) return Diagram::yes;
        const std::uint64_t column = columns[leaf];
        const unsigned shift = 32u >> leaf;
        const std::uint64_t high = (table & column) | (table & column) >> shift;
        const std::uint64_t low = (table & ~column) | (table & ~column) << shift;
        if (high == low) return fold(low, leaf + 1);
        const auto known = nodes_.find(table);
        if (known != nodes_.end()) return known->second;
        const std::uint32_t low_node = fold(low, leaf + 1);
        const std::uint32_t high_node = fold(high, leaf + 1);
        diagram_.nodes.push_back({leaf, low_node, high_node});
        const auto index = static_cast<std::uint32_t>(diagram_.nodes.size() - 1 + Diagram::first_node);
        nodes_.emplace(table, index);
        return index;
    }

private:
    Diagram& diagram_;
    std::map<std::uint64_t, std::uint32_t> nodes_;
};

}  // namespace

Diagram work_out_small(const Circuit& circuit) {
    std::vector<std::uint64_t> tables(1 + circuit.leaves + circuit.gates(), ~std::uint64_t{0});
    const auto table_of = [&](Event event) { return event.negated() ? ~tables[event.node()] : tables[event.node()]; };
    for (std::uint32_t leaf = 0; leaf < circuit.leaves; ++leaf) tables[leaf + 1] = columns[leaf];
    for (std::size_t gate = 0; gate < circuit.gates(); ++gate) {
        std::uint64_t& all = tables[circuit.gate_index(gate)];
        for (const Event input : circuit.gate_inputs(gate)) all &= table_of(input);
    }
    Diagram diagram;
    TableFolder folder(diagram);
    for (const Event root : circuit.roots) diagram.roots.push_back(folder.fold(table_of(root), 0));
    return diagram;
}

}  // namespace saggar::weighing
