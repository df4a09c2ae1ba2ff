#include "kg/weigh/figures.h"

#include <algorithm>
#include <numeric>

#include "kg/weigh/bdd.h"
#include "kg/weigh/truth_table.h"

namespace saggar::weighing {

namespace {

bool is_product(const Circuit& circuit) {
    return circuit.gates() == 1 && circuit.roots.size() == 1 && !circuit.roots[0].negated() &&
           circuit.inputs.size() == circuit.leaves;
}

double factor(Event input, std::span<const double> leaf_chances) {
    const double p = leaf_chances[input.node() - 1];
    return input.negated() ? 1 - p : p;
}

double product_value(const Circuit& circuit, std::span<const double> leaf_chances) {
    double value = 1;
    for (const Event input : circuit.inputs) value *= factor(input, leaf_chances);
    return value;
}

// Products of all the other factors, without dividing: a factor may be 0.
void add_product_slopes(const Circuit& circuit, std::span<const double> leaf_chances, double weight,
                        std::span<double> slopes) {
    const auto& inputs = circuit.inputs;
    std::vector<double> after(inputs.size() + 1, 1.0);
    for (std::size_t i = inputs.size(); i-- > 0;) after[i] = after[i + 1] * factor(inputs[i], leaf_chances);
    double before = weight;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const double slope = before * after[i + 1];
        slopes[inputs[i].node() - 1] += inputs[i].negated() ? -slope : slope;
        before *= factor(inputs[i], leaf_chances);
    }
}

}  // namespace

Figures::Figures(const Lineage& lineage, std::span<const Event> roots, std::size_t node_budget)
    : variables_(lineage.variables()) {
    for (Piece& piece : cut_into_pieces(lineage, roots)) {
        Part part;
        part.piece = std::move(piece);
        const Circuit& circuit = part.piece.circuit;
        const bool can_be_exact = std::all_of(part.piece.leaves.begin(), part.piece.leaves.end(), [&](Piece::Leaf leaf) {
            return !leaf.is_piece || parts_[leaf.number].exact();
        });
        if (can_be_exact) {
            part.product = is_product(circuit);
            if (!part.product) {
                part.diagram = circuit.leaves <= most_truth_table_leaves ? work_out_small(circuit)
                                                                         : work_out(circuit, node_budget);
            }
        }
        exact_ = exact_ && part.exact();
        parts_.push_back(std::move(part));
    }
}

std::size_t Figures::diagram_nodes() const {
    std::size_t nodes = 0;
    for (const Part& part : parts_) nodes += part.diagram ? part.diagram->nodes.size() : 0;
    return nodes;
}

std::vector<double> Figures::leaf_chances(const Part& part, std::span<const double> chances,
                                          std::span<const double> part_values) {
    std::vector<double> result;
    result.reserve(part.piece.leaves.size());
    for (const Piece::Leaf leaf : part.piece.leaves) {
        result.push_back(leaf.is_piece ? part_values[leaf.number] : chances[leaf.number]);
    }
    return result;
}

std::vector<double> Figures::part_values(std::span<const double> chances) const {
    std::vector<double> values(parts_.size(), 0.0);
    for (std::size_t i = 0; i + 1 < parts_.size(); ++i) {
        const Part& part = parts_[i];
        if (!part.exact()) continue;
        const auto leaves = leaf_chances(part, chances, values);
        values[i] = part.product ? product_value(part.piece.circuit, leaves)
                                 : part.diagram->values(leaves)[part.diagram->roots[0]];
    }
    return values;
}

std::vector<double> Figures::values(std::span<const double> chances) const {
    const auto leaves = leaf_chances(parts_.back(), chances, part_values(chances));
    if (parts_.back().product) return {product_value(parts_.back().piece.circuit, leaves)};
    const Diagram& diagram = *parts_.back().diagram;
    const auto all = diagram.values(leaves);
    std::vector<double> result;
    for (const std::uint32_t root : diagram.roots) result.push_back(all[root]);
    return result;
}

std::vector<double> Figures::slopes(std::span<const double> chances, std::span<const double> weights) const {
    const auto values = part_values(chances);
    const Part& top = parts_.back();
    const auto leaves = leaf_chances(top, chances, values);
    std::vector<double> leaf_slopes(leaves.size(), 0.0);
    if (top.product) {
        add_product_slopes(top.piece.circuit, leaves, weights[0], leaf_slopes);
    } else {
        const auto all = top.diagram->values(leaves);
        for (std::size_t i = 0; i < weights.size(); ++i) {
            if (weights[i] != 0) top.diagram->add_slopes(leaves, all, top.diagram->roots[i], weights[i], leaf_slopes);
        }
    }
    std::vector<double> part_slopes(parts_.size(), 0.0);
    std::vector<double> result(variables_, 0.0);
    for (std::size_t i = 0; i < leaf_slopes.size(); ++i) {
        const Piece::Leaf leaf = top.piece.leaves[i];
        (leaf.is_piece ? part_slopes : result)[leaf.number] += leaf_slopes[i];
    }
    spread(chances, values, part_slopes, result);
    return result;
}

void Figures::spread(std::span<const double> chances, std::span<const double> part_values,
                     std::vector<double>& part_slopes, std::vector<double>& slopes) const {
    for (std::size_t i = parts_.size() - 1; i-- > 0;) {
        if (part_slopes[i] == 0) continue;
        const Part& part = parts_[i];
        const auto leaves = leaf_chances(part, chances, part_values);
        std::vector<double> leaf_slopes(leaves.size(), 0.0);
        if (part.product) {
            add_product_slopes(part.piece.circuit, leaves, part_slopes[i], leaf_slopes);
        } else {
            const auto all = part.diagram->values(leaves);
            part.diagram->add_slopes(leaves, all, part.diagram->roots[0], part_slopes[i], leaf_slopes);
        }
        for (std::size_t j = 0; j < leaf_slopes.size(); ++j) {
            const Piece::Leaf leaf = part.piece.leaves[j];
            (leaf.is_piece ? part_slopes : slopes)[leaf.number] += leaf_slopes[j];
        }
    }
}

}  // namespace saggar::weighing
