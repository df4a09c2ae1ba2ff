// One walk over worked-out figures with given chances: values forwards, slopes backwards. Private to figures and sampler.
//
// V is double, or Lanes for eight outcomes of the decided chances at once.
#pragma once

#include <span>
#include <vector>

#include "kg/weigh/figures.h"
#include "kg/weigh/lanes.h"

namespace saggar::weighing {

template <class V>
class FigureWalk {
public:
    // Copies the chances; keeps a reference to the figures.
    FigureWalk(const Figures& figures, std::span<const double> chances);

    // Puts other chances in place of some.
    void set(std::uint32_t variable, const V& chance) { chances_[variable] = chance; }
    // Works out every exact part; with `only_on_decided`, those that depend on decided chances, the others as they stand.
    void evaluate(bool only_on_decided);

    const V& part_value(std::size_t part) const { return part_values_[part]; }
    // Of the last part, which must be exact.
    V root_value(std::size_t root) const;
    // Adds weight * d value(root) / d chance, over all lanes, for every variable. After evaluate().
    void add_root_slopes(std::size_t root, const V& weight, std::span<double> slopes);
    // Hands slopes on the parts below the last one down to the variables they rest on.
    void spread(std::vector<V>& part_slopes, std::span<double> slopes);

private:
    void gather(const Figures::Part& part, std::vector<V>& leaves) const;
    void add_leaf_slopes(const Figures::Part& part, std::vector<V>& part_slopes, std::span<double> slopes);

    const Figures& figures_;
    std::vector<V> chances_, part_values_;
    std::vector<V> leaves_, leaf_slopes_, node_values_, top_values_, reach_, after_;
};

extern template class FigureWalk<double>;
extern template class FigureWalk<Lanes>;

}  // namespace saggar::weighing
