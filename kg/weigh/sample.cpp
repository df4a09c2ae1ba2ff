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

// One run: leaves drawn and the circuit evaluated, freely and under the condition.
class SampleRun {
public:
    SampleRun(const Sampler& sampler, std::span<const double> chances)
        : its_(sampler), circuit_(sampler.worlds_.circuit), walk_(sampler.figures_, chances) {
        walk_.evaluate(false);
        for (const Piece::Leaf leaf : sampler.worlds_.leaves) {
            leaf_chances_.push_back(leaf.is_piece ? walk_.part_value(leaf.number) : chances[leaf.number]);
            drawers_.emplace_back(leaf_chances_.back());
        }
        if (sampler.condition_) conditioned_.emplace(*sampler.condition_, leaf_chances_);
    }

    Tally run(const SamplePlan& plan) {
        std::mt19937_64 random(plan.seed);
        leaf_words_.assign(drawers_.size(), 0);
        words_.assign(1 + circuit_.leaves + circuit_.gates(), ~std::uint64_t{0});
        begin(freely_, its_.free_.size(), plan.slopes);
        begin(under_, its_.within_.size(), plan.slopes);
        Tally tally;
        const bool possible = conditioned_ && conditioned_->probability() > 0;
        bool draw_freely = !its_.free_.empty(), draw_under = possible;
        while (draw_freely || draw_under) {
            for (std::size_t i = 0; i < words_a_step; ++i) step(random, draw_freely, draw_under, plan.slopes);
            tally.worlds += words_a_step * worlds_a_word;
            draw_freely = draw_freely && freely_.worlds < std::min(plan.enough, plan.most_worlds);
            draw_under = draw_under && kept() < plan.enough && under_.worlds < plan.most_worlds && !hopeless(plan);
        }
        tally.free_worlds = freely_.worlds;
        tally.kept = possible ? kept() : 0;
        tally.values.assign(circuit_.roots.size(), 0.0);
        for (std::size_t i = 0; i < its_.free_.size(); ++i) tally.values[its_.free_[i]] = freely_.frequency(i);
        for (std::size_t i = 0; possible && i < its_.within_.size(); ++i) {
            tally.values[its_.within_[i]] = conditioned_->probability() * under_.frequency(i);
        }
        if (plan.slopes) add_slopes(tally);
        return tally;
    }

private:
    // What was counted in one kind of worlds.
    struct Count {
        std::size_t worlds = 0;
        std::vector<std::size_t> holds;                   // per root counted here
        std::vector<std::size_t> leaf_holds;              // for slopes
        std::vector<std::vector<std::size_t>> both_hold;  // per root and leaf, for slopes

        double frequency(std::size_t root) const { return static_cast<double>(holds[root]) / static_cast<double>(worlds); }
    };

    void begin(Count& count, std::size_t roots, bool slopes) const {
        count.holds.assign(roots, 0);
        if (!slopes) return;
        count.leaf_holds.assign(drawers_.size(), 0);
        count.both_hold.assign(roots, std::vector<std::size_t>(drawers_.size(), 0));
    }

    // The condition is the first of the roots within it.
    std::size_t kept() const { return under_.holds[0]; }

    // Judged once as many worlds are drawn as have to be kept.
    bool hopeless(const SamplePlan& plan) const {
        if (under_.worlds < plan.enough || plan.least == 0) return false;
        return under_.frequency(0) * static_cast<double>(plan.most_worlds) < static_cast<double>(plan.least) / 2;
    }

    void step(std::mt19937_64& random, bool draw_freely, bool draw_under, bool slopes) {
        for (std::size_t leaf = 0; leaf < drawers_.size(); ++leaf) leaf_words_[leaf] = drawers_[leaf].draw(random);
        if (draw_freely) {
            evaluate();
            add_up(freely_, its_.free_, slopes);
        }
        if (draw_under) {
            conditioned_->impose(leaf_words_, random);
            evaluate();
            add_up(under_, its_.within_, slopes);
        }
    }

    void evaluate() {
        std::copy(leaf_words_.begin(), leaf_words_.end(), words_.begin() + 1);
        std::uint32_t begin = 0;
        for (std::size_t gate = 0; gate < circuit_.gates(); ++gate) {
            std::uint64_t all = ~std::uint64_t{0};
            for (std::uint32_t i = begin; i < circuit_.gate_end[gate]; ++i) all &= word_of(circuit_.inputs[i]);
            begin = circuit_.gate_end[gate];
            words_[circuit_.gate_index(gate)] = all;
        }
    }

    std::uint64_t word_of(Event event) const { return words_[event.node()] ^ (event.negated() ? ~std::uint64_t{0} : 0); }

    void add_up(Count& count, const std::vector<std::size_t>& roots, bool slopes) const {
        count.worlds += worlds_a_word;
        for (std::size_t i = 0; i < roots.size(); ++i) {
            const std::uint64_t word = word_of(circuit_.roots[roots[i]]);
            count.holds[i] += static_cast<std::size_t>(std::popcount(word));
            for (std::size_t leaf = 0; slopes && leaf < leaf_words_.size(); ++leaf) {
                count.both_hold[i][leaf] += static_cast<std::size_t>(std::popcount(word & leaf_words_[leaf]));
            }
        }
        for (std::size_t leaf = 0; slopes && leaf < leaf_words_.size(); ++leaf) {
            count.leaf_holds[leaf] += static_cast<std::size_t>(std::popcount(leaf_words_[leaf]));
        }
    }

    void add_slopes(Tally& tally) {
        tally.slopes.assign(circuit_.roots.size(), std::vector<double>(its_.figures_.variables(), 0.0));
        for (std::size_t i = 0; i < its_.free_.size(); ++i) add_slopes_of(freely_, i, false, tally.slopes[its_.free_[i]]);
        for (std::size_t i = 0; i < its_.within_.size(); ++i) add_slopes_of(under_, i, true, tally.slopes[its_.within_[i]]);
    }

    // The slope on a leaf is the difference of the root's chance with and without it: its frequency among the worlds with
    // the leaf, and how likely the condition makes such worlds, which is known. Inside exact parts the slopes are known
    // and are multiplied on.
    void add_slopes_of(const Count& count, std::size_t root, bool under, std::vector<double>& variables) {
        std::vector<double> parts(its_.figures_.parts_.size(), 0.0);
        for (std::size_t leaf = 0; leaf < drawers_.size(); ++leaf) {
            const std::size_t with = count.leaf_holds[leaf], without = count.worlds - with;
            const double weight_with = under ? conditioned_->given(static_cast<std::uint32_t>(leaf)) : 1;
            const double weight_without = under ? conditioned_->given_not(static_cast<std::uint32_t>(leaf)) : 1;
            if ((with == 0 && weight_with > 0) || (without == 0 && weight_without > 0)) continue;
            const std::size_t both = count.both_hold[root][leaf];
            const double slope = share(both, with) * weight_with - share(count.holds[root] - both, without) * weight_without;
            const Piece::Leaf is = its_.worlds_.leaves[leaf];
            (is.is_piece ? parts : variables)[is.number] = slope;
        }
        walk_.spread(parts, variables);
    }

    static double share(std::size_t part, std::size_t whole) {
        return whole == 0 ? 0 : static_cast<double>(part) / static_cast<double>(whole);
    }

    const Sampler& its_;
    const Circuit& circuit_;
    FigureWalk<double> walk_;
    std::vector<double> leaf_chances_;
    std::vector<ChanceDrawer> drawers_;
    std::optional<ConditionedWorlds> conditioned_;
    std::vector<std::uint64_t> leaf_words_;
    std::vector<std::uint64_t> words_;
    Count freely_, under_;
};

Sampler::Sampler(const Figures& figures) : figures_(figures), worlds_(circuit_of_worlds(figures)) {
    for (std::size_t root = 0; root < figures.roots(); ++root) free_.push_back(root);
}

Sampler::Sampler(const Figures& figures, std::size_t given, std::span<const std::size_t> within, std::size_t node_budget)
    : Sampler(figures) {
    condition_.emplace(worlds_.circuit, worlds_.circuit.roots[given], node_budget);
    within_.push_back(given);
    within_.insert(within_.end(), within.begin(), within.end());
    free_.erase(std::remove_if(free_.begin(), free_.end(),
                               [&](std::size_t root) { return std::find(within_.begin(), within_.end(), root) != within_.end(); }),
                free_.end());
}

Tally Sampler::run(std::span<const double> chances, const SamplePlan& plan) const { return SampleRun(*this, chances).run(plan); }

}  // namespace saggar::weighing
