// The probabilities of several events of one lineage: worked out piece by piece, exactly where the budget allows.
//
// The lineage is cut into private parts (modules.h). A part that is one gate is a product; a small one is a truth
// table; the rest go to BuDDy. What is kept can be asked again with other chances (what-ifs, bands, changed weights)
// without building anything. Parts past the node budget are left as circuits for the sampler (sample.h).
//
// Cost of asking again: linear in what is kept.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "kg/weigh/diagram.h"
#include "kg/weigh/lineage.h"
#include "kg/weigh/modules.h"

namespace saggar::weighing {

class Figures {
public:
    // Works out all roots together. `node_budget` bounds each diagram. Thread-safe.
    Figures(const Lineage& lineage, std::span<const Event> roots, std::size_t node_budget);

    // Whether every part was within the budget; if not, only the sampler can answer.
    bool exact() const { return exact_; }
    std::size_t diagram_nodes() const;
    std::size_t roots() const { return parts_.back().piece.circuit.roots.size(); }
    std::size_t variables() const { return variables_; }

    // The probability of every root. Requires exact(). `chances` is indexed by variable of the lineage.
    std::vector<double> values(std::span<const double> chances) const;

    // For every variable, d(sum of weight * value over the roots) / d(chance). Requires exact().
    std::vector<double> slopes(std::span<const double> chances, std::span<const double> weights) const;

private:
    friend class Sampler;

    struct Part {
        Piece piece;
        std::optional<Diagram> diagram;  // nothing: a product, or to be sampled
        bool product = false;
        bool exact() const { return product || diagram.has_value(); }
    };

    // Values of the exact parts, the last one excepted, by number of the part.
    std::vector<double> part_values(std::span<const double> chances) const;
    static std::vector<double> leaf_chances(const Part& part, std::span<const double> chances,
                                            std::span<const double> part_values);
    // Hands a slope on each part down to the variables it rests on.
    void spread(std::span<const double> chances, std::span<const double> part_values, std::vector<double>& part_slopes,
                std::vector<double>& slopes) const;

    std::vector<Part> parts_;
    std::size_t variables_ = 0;
    bool exact_ = true;
};

}  // namespace saggar::weighing
