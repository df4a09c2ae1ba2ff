// The probabilities of several events of one lineage: worked out piece by piece, exactly where the budget allows.
//
// The lineage is cut into private parts (modules.h). A part that is one gate is a product; a small one is a truth table;
// the rest go to BuDDy. Where that needs too many nodes, the chances that tie most together (shared sources) are decided
// one way and the other: given them the lineage falls into small parts, and the figures are added up over all their
// outcomes (Pearl 1988, "cutset conditioning"). What is kept can be asked again with other chances (what-ifs, bands,
// changed weights) without building anything. What is past all budgets is left as circuits for the sampler (sample.h).
//
// Cost of asking again: linear in what is kept, times the outcomes of the chances decided.
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
    // Works out all roots together. `node_budget` bounds each diagram. `order`: events in whose order chances are looked at;
    // what belongs together should come together. Thread-safe.
    Figures(const Lineage& lineage, std::span<const Event> roots, std::size_t node_budget, std::span<const Event> order = {});

    // Whether everything was within the budget; if not, only the sampler can answer.
    bool exact() const { return exact_; }
    std::size_t diagram_nodes() const;
    // How many chances are decided one way and the other.
    std::size_t decided() const { return decided_.size(); }
    std::size_t roots() const { return parts_.back().piece.circuit.roots.size(); }
    std::size_t variables() const { return variables_; }

    // The probability of every root. Requires exact(). `chances` is indexed by variable of the lineage.
    std::vector<double> values(std::span<const double> chances) const;

    // For every root and variable, d value(root) / d chance. Requires exact().
    std::vector<std::vector<double>> slopes(std::span<const double> chances) const;

private:
    friend class PartsJoiner;
    friend class SampleRun;
    template <class V>
    friend class FigureWalk;

    struct Part {
        Piece piece;
        std::optional<Diagram> diagram;  // nothing: a product, or to be sampled
        bool product = false;
        bool on_decided = false;         // its value depends on the chances decided
        bool exact() const { return product || diagram.has_value(); }
    };

    // Replaces the parts; false where one of them is past the budget.
    struct Request {
        const Lineage& lineage;
        std::span<const Event> roots;
        std::span<const Event> order;
    };
    bool build(const Request& request, std::size_t node_budget, std::span<const char> decided);
    bool build_by_deciding(const Request& request);
    bool build_deciding(const Request& request, std::span<const std::uint32_t> decided, std::size_t most_nodes);
    std::size_t steps(std::size_t decided) const { return (diagram_nodes() + parts_.size()) << decided; }

    std::vector<Part> parts_;               // the last one has the roots
    std::vector<std::uint32_t> decided_;    // variables
    std::size_t variables_ = 0;
    bool exact_ = true;
};

}  // namespace saggar::weighing
