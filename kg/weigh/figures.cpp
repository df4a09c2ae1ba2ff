#include "kg/weigh/figures.h"

#include <algorithm>

#include "kg/weigh/bdd.h"
#include "kg/weigh/figure_walk.h"
#include "kg/weigh/truth_table.h"

namespace saggar::weighing {

namespace {

constexpr std::size_t first_try = 25'000;         // nodes; a diagram beyond this is dear to build
constexpr std::uint32_t least_uses = 3;           // by gates, to be worth deciding
constexpr std::size_t most_decided = 14;          // chances decided one way and the other
constexpr std::size_t least_decided = 8;          // with fewer, the diagram itself would do
constexpr std::size_t most_steps = 100'000'000;   // nodes walked over in all outcomes
constexpr std::size_t quick_steps = 40'000'000;   // short enough not to look for less
constexpr std::size_t large = 120;                // chances in one part: beyond, the default budget would only be used up in vain
constexpr std::size_t hopeless = 250;             // beyond, deciding some of them would not help either
constexpr std::size_t default_budget = 200'000;

bool is_product(const Circuit& circuit) {
    return circuit.gates() == 1 && circuit.roots.size() == 1 && !circuit.roots[0].negated() &&
           circuit.inputs.size() == circuit.leaves;
}

// Variables by how many gates use them, the most used first; those used little are left out.
std::vector<std::uint32_t> most_shared(const Lineage& lineage, std::span<const Event> roots) {
    std::vector<std::uint32_t> uses(lineage.variables(), 0);
    std::vector<char> met(lineage.nodes(), 0);
    std::vector<std::uint32_t> at;
    for (const Event root : roots) at.push_back(root.node());
    while (!at.empty()) {
        const std::uint32_t node = at.back();
        at.pop_back();
        if (met[node]) continue;
        met[node] = 1;
        for (const Event input : lineage.inputs(node)) {
            if (lineage.is_variable(input.node())) {
                ++uses[lineage.variable(input.node())];
            } else {
                at.push_back(input.node());
            }
        }
    }
    std::vector<std::uint32_t> shared;
    for (std::uint32_t v = 0; v < uses.size(); ++v) {
        if (uses[v] >= least_uses) shared.push_back(v);
    }
    std::stable_sort(shared.begin(), shared.end(), [&](std::uint32_t a, std::uint32_t b) { return uses[a] > uses[b]; });
    return shared;
}

// The outcomes of the decided chances, eight at a time: the first three differ from lane to lane.
class Outcomes {
public:
    static constexpr std::size_t in_lanes = 3;

    Outcomes(std::span<const std::uint32_t> decided, std::span<const double> chances) : decided_(decided), chances_(chances) {}

    std::size_t steps() const { return std::size_t{1} << (decided_.size() < in_lanes ? 0 : decided_.size() - in_lanes); }
    // Whether decided chance `d` holds in this lane of this step.
    bool holds(std::size_t d, std::size_t step, std::size_t lane) const { return (d < in_lanes ? lane >> d : step >> (d - in_lanes)) & 1; }
    // Lanes beyond the last outcome have no weight.
    bool counts(std::size_t lane) const { return decided_.size() >= in_lanes || lane < std::size_t{1} << decided_.size(); }

    Lanes column(std::size_t d, std::size_t step) const {
        Lanes column;
        for (std::size_t lane = 0; lane < Lanes::count; ++lane) column.of[lane] = holds(d, step, lane) ? 1 : 0;
        return column;
    }
    // The probability of each outcome, with decided chance `aside` left out of it.
    Lanes probability(std::size_t step, std::size_t aside) const {
        Lanes result;
        for (std::size_t lane = 0; lane < Lanes::count; ++lane) {
            double p = counts(lane) ? 1 : 0;
            for (std::size_t d = 0; d < decided_.size(); ++d) {
                if (d != aside) p *= holds(d, step, lane) ? chances_[decided_[d]] : 1 - chances_[decided_[d]];
            }
            result.of[lane] = p;
        }
        return result;
    }
    Lanes probability(std::size_t step) const { return probability(step, decided_.size()); }

private:
    std::span<const std::uint32_t> decided_;
    std::span<const double> chances_;
};

// Calls visit(step) for every eight outcomes, with the walk set to them and evaluated.
template <class Visit>
void for_each_step(FigureWalk<Lanes>& walk, std::span<const std::uint32_t> decided, const Outcomes& outcomes, Visit visit) {
    walk.evaluate(false);
    for (std::size_t step = 0; step < outcomes.steps(); ++step) {
        for (std::size_t d = 0; d < decided.size(); ++d) walk.set(decided[d], outcomes.column(d, step));
        walk.evaluate(true);
        visit(step);
    }
}

}  // namespace

Figures::Figures(const Lineage& lineage, std::span<const Event> roots, std::size_t node_budget, std::span<const Event> order)
    : variables_(lineage.variables()) {
    const Request request{lineage, roots, order};
    if (build(request, std::min(node_budget, first_try), {})) return;
    const std::size_t in_one = parts_.back().piece.leaves.size();
    // The first try is the last but for deciding: there is no larger budget, or it would only be used up.
    const bool no_more = node_budget <= first_try || (node_budget <= default_budget && in_one > large);
    std::vector<Part> first = no_more ? parts_ : std::vector<Part>{};
    if (node_budget >= first_try && in_one <= hopeless) {
        const std::vector<Event> backwards(order.rbegin(), order.rend());  // what comes last may be better looked at first
        if (build_by_deciding(request) || build_by_deciding({lineage, roots, backwards})) return;
    }
    decided_.clear();
    if (no_more) parts_ = std::move(first);
    exact_ = !no_more && build(request, node_budget, {});
}

bool Figures::build(const Request& request, std::size_t node_budget, std::span<const char> decided) {
    parts_.clear();
    bool all = true;
    for (Piece& piece : cut_into_pieces(request.lineage, request.roots, decided, request.order)) {
        Part part;
        part.piece = std::move(piece);
        bool can_be_exact = true;
        for (const Piece::Leaf leaf : part.piece.leaves) {
            can_be_exact = can_be_exact && (!leaf.is_piece || parts_[leaf.number].exact());
            const bool settled = leaf.is_piece ? parts_[leaf.number].on_decided : !decided.empty() && decided[leaf.number];
            part.on_decided = part.on_decided || settled;
        }
        const Circuit& circuit = part.piece.circuit;
        part.product = can_be_exact && is_product(circuit);
        if (can_be_exact && !part.product) {
            part.diagram = circuit.leaves <= most_truth_table_leaves ? work_out_small(circuit) : work_out(circuit, node_budget);
        }
        all = all && part.exact();
        parts_.push_back(std::move(part));
    }
    return all;
}

bool Figures::build_deciding(const Request& request, std::span<const std::uint32_t> decided, std::size_t most_nodes) {
    std::vector<char> marks(request.lineage.variables(), 0);
    for (const std::uint32_t variable : decided) marks[variable] = 1;
    // While a diagram is built it is larger than when it is done.
    if (!build(request, std::min(most_nodes, first_try) * 3, marks) || diagram_nodes() > most_nodes) return false;
    decided_.assign(decided.begin(), decided.end());
    return true;
}

// Decides as many as allowed, or fewer with larger diagrams; if that is long to walk, fewer still while it gets shorter.
bool Figures::build_by_deciding(const Request& request) {
    const auto shared = most_shared(request.lineage, request.roots);
    std::size_t count = std::min(most_decided, shared.size());
    const auto first = [&](std::size_t n) { return std::span<const std::uint32_t>(shared).first(n); };
    if (count == 0) return false;
    if (!build_deciding(request, first(count), most_steps >> count)) {
        if (count <= least_decided) return false;
        count -= 2;
        if (!build_deciding(request, first(count), most_steps >> count)) return false;
    }
    for (std::size_t best = steps(count); best > quick_steps && count > 2; count -= 2) {
        Figures fewer(*this);
        if (!fewer.build_deciding(request, first(count - 2), best >> (count - 2))) break;
        if (fewer.steps(count - 2) >= best) break;
        best = fewer.steps(count - 2);
        *this = std::move(fewer);
    }
    return steps(decided_.size()) <= most_steps;
}

std::size_t Figures::diagram_nodes() const {
    std::size_t nodes = 0;
    for (const Part& part : parts_) nodes += part.diagram ? part.diagram->nodes.size() : 0;
    return nodes;
}

std::vector<double> Figures::values(std::span<const double> chances) const {
    std::vector<double> result(roots(), 0.0);
    if (decided_.empty()) {
        FigureWalk<double> walk(*this, chances);
        walk.evaluate(false);
        for (std::size_t i = 0; i < result.size(); ++i) result[i] = walk.root_value(i);
        return result;
    }
    FigureWalk<Lanes> walk(*this, chances);
    const Outcomes outcomes(decided_, chances);
    for_each_step(walk, decided_, outcomes, [&](std::size_t step) {
        const Lanes probability = outcomes.probability(step);
        for (std::size_t i = 0; i < result.size(); ++i) result[i] += sum(probability * walk.root_value(i));
    });
    return result;
}

std::vector<std::vector<double>> Figures::slopes(std::span<const double> chances) const {
    std::vector<std::vector<double>> result(roots(), std::vector<double>(variables_, 0.0));
    if (decided_.empty()) {
        FigureWalk<double> walk(*this, chances);
        walk.evaluate(false);
        for (std::size_t i = 0; i < result.size(); ++i) walk.add_root_slopes(i, 1, result[i]);
        return result;
    }
    FigureWalk<Lanes> walk(*this, chances);
    const Outcomes outcomes(decided_, chances);
    // A decided chance is taken along its outcomes: those with it count up, those without it down.
    std::vector<std::vector<double>> decided_slopes(roots(), std::vector<double>(decided_.size(), 0.0));
    for_each_step(walk, decided_, outcomes, [&](std::size_t step) {
        const Lanes probability = outcomes.probability(step);
        for (std::size_t i = 0; i < result.size(); ++i) walk.add_root_slopes(i, probability, result[i]);
        for (std::size_t d = 0; d < decided_.size(); ++d) {
            const Lanes signed_rest = (outcomes.column(d, step) * 2 - 1) * outcomes.probability(step, d);
            for (std::size_t i = 0; i < result.size(); ++i) decided_slopes[i][d] += sum(signed_rest * walk.root_value(i));
        }
    });
    for (std::size_t i = 0; i < result.size(); ++i) {
        for (std::size_t d = 0; d < decided_.size(); ++d) result[i][decided_[d]] = decided_slopes[i][d];
    }
    return result;
}

}  // namespace saggar::weighing
