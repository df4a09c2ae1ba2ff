#include "kg/weigh/sample.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <random>

#include "kg/weigh/figure_walk.h"

namespace saggar::weighing {

namespace {

constexpr double doubt = .05;              // a half-width holds in 95 % of samples
constexpr std::size_t worlds_a_word = 64;
constexpr std::size_t words_a_step = 16;   // words drawn between two looks at the stopping rule

// Sixty-four draws of one chance: the bits of a uniform number are compared with those of the chance, first bit first,
// until every lane has differed.
class ChanceDrawer {
public:
    explicit ChanceDrawer(double chance)
        : certain_(chance >= 1), bits_(certain_ ? 0 : static_cast<std::uint64_t>(std::ldexp(std::max(chance, 0.0), 53)) << 11) {}

    std::uint64_t draw(std::mt19937_64& random) const {
        if (certain_) return ~std::uint64_t{0};
        std::uint64_t holds = 0;
        std::uint64_t open = ~std::uint64_t{0};
        for (std::uint64_t left = bits_; left != 0 && open != 0; left <<= 1) {
            const std::uint64_t word = random();
            if (left >> 63) {
                holds |= open & ~word;
                open &= word;
            } else {
                open &= ~word;
            }
        }
        return holds;
    }

private:
    bool certain_;
    std::uint64_t bits_;
};

}  // namespace

std::size_t worlds_for(double half_width) {
    return static_cast<std::size_t>(std::ceil(std::log(2 / doubt) / (2 * half_width * half_width)));
}

double half_width_of(std::size_t worlds) {
    return worlds == 0 ? 1 : std::min(1.0, std::sqrt(std::log(2 / doubt) / (2 * static_cast<double>(worlds))));
}

// Draws the chances that matter and evaluates the parts that were not worked out. A chance belongs to one part only.
class Sampler {
public:
    Sampler(const Figures& figures, std::span<const double> chances)
        : figures_(figures), chances_(chances), walk_(figures, chances) {
        walk_.evaluate(false);
        add_part(figures.parts_.size() - 1);
    }

    Tally run(const SamplePlan& plan) {
        std::mt19937_64 random(plan.seed);
        Tally tally;
        tally.holds.assign(figures_.roots(), 0);
        leaf_holds_.assign(leaves_.size(), 0);
        both_hold_.assign(plan.slopes ? figures_.roots() : 0, std::vector<std::size_t>(leaves_.size(), 0));
        while (tally.worlds < plan.most_worlds && tally.holds[plan.counted] < plan.enough && !hopeless(plan, tally)) {
            for (std::size_t i = 0; i < words_a_step; ++i) {
                for (std::size_t leaf = 0; leaf < leaves_.size(); ++leaf) leaf_words_[leaf] = leaves_[leaf].drawer.draw(random);
                evaluate();
                count(tally, plan.slopes);
            }
        }
        if (plan.slopes) tally.slopes = slopes(tally);
        return tally;
    }

private:
    // Judged once enough worlds for the events that need no counting are drawn.
    static bool hopeless(const SamplePlan& plan, const Tally& tally) {
        if (tally.worlds < plan.enough || plan.least == 0) return false;
        const double rate = static_cast<double>(tally.holds[plan.counted]) / static_cast<double>(tally.worlds);
        return rate * static_cast<double>(plan.most_worlds) < static_cast<double>(plan.least) / 2;
    }

    struct Leaf {
        ChanceDrawer drawer;
        Piece::Leaf is;
    };
    struct Input {
        bool from_part = false;
        std::size_t number = 0;  // of the leaf or of the part
    };
    struct Part {
        const Circuit* circuit = nullptr;
        std::vector<Input> inputs;  // per leaf of the circuit
        std::uint64_t result = 0;   // of its first root
    };

    // Adds the part after those it rests on; the depth of parts is that of nested modules, so the walk keeps a stack.
    void add_part(std::size_t top) {
        std::vector<std::size_t> wanted{top};
        std::vector<std::size_t> order;
        while (!wanted.empty()) {
            const std::size_t number = wanted.back();
            wanted.pop_back();
            order.push_back(number);
            for (const Piece::Leaf leaf : figures_.parts_[number].piece.leaves) {
                if (leaf.is_piece && !figures_.parts_[leaf.number].exact()) wanted.push_back(leaf.number);
            }
        }
        std::vector<std::size_t> place(figures_.parts_.size(), 0);
        for (auto it = order.rbegin(); it != order.rend(); ++it) {
            place[*it] = parts_.size();
            parts_.push_back(part_of(*it, place));
        }
        leaf_words_.assign(leaves_.size(), 0);
    }

    Part part_of(std::size_t number, const std::vector<std::size_t>& place) {
        const Piece& piece = figures_.parts_[number].piece;
        Part part;
        part.circuit = &piece.circuit;
        for (const Piece::Leaf leaf : piece.leaves) {
            if (leaf.is_piece && !figures_.parts_[leaf.number].exact()) {
                part.inputs.push_back({true, place[leaf.number]});
                continue;
            }
            part.inputs.push_back({false, leaves_.size()});
            leaves_.push_back({ChanceDrawer(leaf.is_piece ? walk_.part_value(leaf.number) : chances_[leaf.number]), leaf});
        }
        return part;
    }

    void evaluate() {
        for (Part& part : parts_) {
            const Circuit& circuit = *part.circuit;
            words_.assign(1 + circuit.leaves + circuit.gates(), ~std::uint64_t{0});
            for (std::size_t i = 0; i < part.inputs.size(); ++i) {
                const Input input = part.inputs[i];
                words_[i + 1] = input.from_part ? parts_[input.number].result : leaf_words_[input.number];
            }
            std::uint32_t begin = 0;
            for (std::size_t gate = 0; gate < circuit.gates(); ++gate) {
                std::uint64_t all = ~std::uint64_t{0};
                for (std::uint32_t i = begin; i < circuit.gate_end[gate]; ++i) all &= word_of(circuit.inputs[i]);
                begin = circuit.gate_end[gate];
                words_[circuit.gate_index(gate)] = all;
            }
            if (!circuit.roots.empty()) part.result = word_of(circuit.roots[0]);
        }
    }

    std::uint64_t word_of(Event event) const { return event.negated() ? ~words_[event.node()] : words_[event.node()]; }

    void count(Tally& tally, bool with_slopes) {
        tally.worlds += worlds_a_word;
        const auto& roots = parts_.back().circuit->roots;
        for (std::size_t root = 0; root < roots.size(); ++root) {
            const std::uint64_t word = word_of(roots[root]);
            tally.holds[root] += static_cast<std::size_t>(std::popcount(word));
            if (!with_slopes) continue;
            for (std::size_t leaf = 0; leaf < leaves_.size(); ++leaf) {
                both_hold_[root][leaf] += static_cast<std::size_t>(std::popcount(word & leaf_words_[leaf]));
            }
        }
        if (!with_slopes) return;
        for (std::size_t leaf = 0; leaf < leaves_.size(); ++leaf) {
            leaf_holds_[leaf] += static_cast<std::size_t>(std::popcount(leaf_words_[leaf]));
        }
    }

    // The slope on a leaf is the difference of the root's frequency with and without it; inside exact parts the slopes
    // are known and are multiplied on.
    std::vector<std::vector<double>> slopes(const Tally& tally) {
        std::vector<std::vector<double>> result;
        for (std::size_t root = 0; root < tally.holds.size(); ++root) {
            std::vector<double> variables(figures_.variables(), 0.0);
            std::vector<double> parts(figures_.parts_.size(), 0.0);
            for (std::size_t leaf = 0; leaf < leaves_.size(); ++leaf) {
                const double with = static_cast<double>(leaf_holds_[leaf]);
                const double without = static_cast<double>(tally.worlds) - with;
                if (with == 0 || without == 0) continue;
                const double both = static_cast<double>(both_hold_[root][leaf]);
                const double slope = both / with - (static_cast<double>(tally.holds[root]) - both) / without;
                (leaves_[leaf].is.is_piece ? parts : variables)[leaves_[leaf].is.number] = slope;
            }
            walk_.spread(parts, variables);
            result.push_back(std::move(variables));
        }
        return result;
    }

    const Figures& figures_;
    std::span<const double> chances_;
    FigureWalk<double> walk_;
    std::vector<Leaf> leaves_;
    std::vector<Part> parts_;  // the last one has the roots
    std::vector<std::uint64_t> leaf_words_;
    std::vector<std::uint64_t> words_;
    std::vector<std::size_t> leaf_holds_;
    std::vector<std::vector<std::size_t>> both_hold_;  // per root and leaf
};

Tally sample(const Figures& figures, std::span<const double> chances, const SamplePlan& plan) {
    return Sampler(figures, chances).run(plan);
}

}  // namespace saggar::weighing
