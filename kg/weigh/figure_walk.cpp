#include "kg/weigh/figure_walk.h"

namespace saggar::weighing {

namespace {

template <class V>
V factor(Event input, const std::vector<V>& leaves) {
    const V& p = leaves[input.node() - 1];
    return input.negated() ? V(1) - p : p;
}

template <class V>
V product_of(const Circuit& circuit, const std::vector<V>& leaves) {
    V value(1);
    for (const Event input : circuit.inputs) value *= factor(input, leaves);
    return value;
}

// Products of all the other factors, without dividing: a factor may be 0.
template <class V>
void add_product_slopes(const Circuit& circuit, const std::vector<V>& leaves, const V& weight, std::vector<V>& slopes,
                        std::vector<V>& after) {
    const auto& inputs = circuit.inputs;
    after.assign(inputs.size() + 1, V(1));
    for (std::size_t i = inputs.size(); i-- > 0;) after[i] = after[i + 1] * factor(inputs[i], leaves);
    V before = weight;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const V slope = before * after[i + 1];
        slopes[inputs[i].node() - 1] += inputs[i].negated() ? -slope : slope;
        before *= factor(inputs[i], leaves);
    }
}

}  // namespace

template <class V>
FigureWalk<V>::FigureWalk(const Figures& figures, std::span<const double> chances)
    : figures_(figures), chances_(chances.begin(), chances.end()), part_values_(figures.parts_.size(), V(0)) {}

template <class V>
void FigureWalk<V>::gather(const Figures::Part& part, std::vector<V>& leaves) const {
    leaves.clear();
    for (const Piece::Leaf leaf : part.piece.leaves) {
        leaves.push_back(leaf.is_piece ? part_values_[leaf.number] : chances_[leaf.number]);
    }
}

template <class V>
void FigureWalk<V>::evaluate(bool only_on_decided) {
    const auto& parts = figures_.parts_;
    for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
        const Figures::Part& part = parts[i];
        if (!part.exact() || (only_on_decided && !part.on_decided)) continue;
        gather(part, leaves_);
        if (part.product) {
            part_values_[i] = product_of(part.piece.circuit, leaves_);
        } else {
            part.diagram->values(leaves_, node_values_);
            part_values_[i] = node_values_[part.diagram->roots[0]];
        }
    }
    const Figures::Part& top = parts.back();
    if (!top.diagram) return;
    gather(top, leaves_);
    top.diagram->values(leaves_, top_values_);
}

template <class V>
V FigureWalk<V>::root_value(std::size_t root) const {
    const Figures::Part& top = figures_.parts_.back();
    if (!top.product) return top_values_[top.diagram->roots[root]];
    std::vector<V> leaves;
    gather(top, leaves);
    return product_of(top.piece.circuit, leaves);
}

template <class V>
void FigureWalk<V>::add_root_slopes(std::size_t root, const V& weight, std::span<double> slopes) {
    const Figures::Part& top = figures_.parts_.back();
    gather(top, leaves_);
    leaf_slopes_.assign(leaves_.size(), V(0));
    if (top.product) {
        add_product_slopes(top.piece.circuit, leaves_, weight, leaf_slopes_, after_);
    } else {
        top.diagram->add_slopes(leaves_, top_values_, top.diagram->roots[root], weight, leaf_slopes_, reach_);
    }
    std::vector<V> part_slopes(figures_.parts_.size(), V(0));
    add_leaf_slopes(top, part_slopes, slopes);
    spread(part_slopes, slopes);
}

template <class V>
void FigureWalk<V>::spread(std::vector<V>& part_slopes, std::span<double> slopes) {
    for (std::size_t i = figures_.parts_.size() - 1; i-- > 0;) {
        const Figures::Part& part = figures_.parts_[i];
        if (!part.exact()) continue;
        const V weight = part_slopes[i];
        gather(part, leaves_);
        leaf_slopes_.assign(leaves_.size(), V(0));
        if (part.product) {
            add_product_slopes(part.piece.circuit, leaves_, weight, leaf_slopes_, after_);
        } else {
            part.diagram->values(leaves_, node_values_);
            part.diagram->add_slopes(leaves_, node_values_, part.diagram->roots[0], weight, leaf_slopes_, reach_);
        }
        add_leaf_slopes(part, part_slopes, slopes);
    }
}

template <class V>
void FigureWalk<V>::add_leaf_slopes(const Figures::Part& part, std::vector<V>& part_slopes, std::span<double> slopes) {
    for (std::size_t i = 0; i < leaf_slopes_.size(); ++i) {
        const Piece::Leaf leaf = part.piece.leaves[i];
        if (leaf.is_piece) {
            part_slopes[leaf.number] += leaf_slopes_[i];
        } else {
            slopes[leaf.number] += sum(leaf_slopes_[i]);
        }
    }
}

template class FigureWalk<double>;
template class FigureWalk<Lanes>;

}  // namespace saggar::weighing
