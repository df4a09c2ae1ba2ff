// Monte Carlo over a lineage, for what is past the node budget.
//
// Sixty-four worlds are drawn at a time, one per bit. The number of worlds comes from Hoeffding's inequality
// ("Probability inequalities for sums of bounded random variables", JASA 1963), so the half-width holds whatever the
// event; the seed is the caller's, so the same question gives the same figure.
//
// Roots that are asked for given another root ("no contradiction") are counted in worlds drawn from that root as far as
// it could be worked out (condition.h); only what is left of it is waited for. Among the worlds kept, a root's frequency
// is its chance given the other root, and the kept worlds are as good as drawn one by one, so Hoeffding holds for them.
//
// Cost: about ten words of random bits and a few word operations per chance and 64 worlds, twice the operations where
// both kinds of roots are asked for; and a step per chance and world in the diagram of the condition.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "kg/weigh/condition.h"
#include "kg/weigh/figures.h"
#include "kg/weigh/world_circuit.h"

namespace saggar::weighing {

// Worlds needed for a half-width at 95 %: 18 445 for .01.
std::size_t worlds_for(double half_width);
// The half-width at 95 % that so many worlds give.
double half_width_of(std::size_t worlds);

struct SamplePlan {
    std::uint64_t seed = 0;
    std::size_t enough = 18'445;          // worlds to keep, and to draw freely
    std::size_t most_worlds = 1'000'000;  // stop waiting after so many
    std::size_t least = 0;                // and as soon as it is clear that not so many will be kept by then
    bool slopes = false;
};

struct Tally {
    std::size_t free_worlds = 0;   // drawn freely
    std::size_t worlds = 0;        // drawn in all
    std::size_t kept = 0;          // of those drawn for the condition, the worlds where it held whole
    std::vector<double> values;    // per root; of roots within the condition: together with it
    std::vector<std::vector<double>> slopes;  // per root and variable, estimated; empty unless asked for
};

// Keeps a reference to the figures. Threads may share one.
class Sampler {
public:
    // All roots are counted in freely drawn worlds.
    explicit Sampler(const Figures& figures);
    // Root `given` and the roots `within`, each of which implies it, are counted in worlds drawn for it; the others in
    // freely drawn ones. `node_budget` bounds the diagram of the condition.
    Sampler(const Figures& figures, std::size_t given, std::span<const std::size_t> within, std::size_t node_budget);

    // Works for exact figures too, unless chances were decided. `chances` is indexed by variable of the lineage.
    Tally run(std::span<const double> chances, const SamplePlan& plan) const;

    // Whether worlds have to be waited for.
    bool waits() const { return condition_ && !condition_->whole(); }
    std::size_t condition_nodes() const { return condition_ ? condition_->nodes() : 0; }

private:
    friend class SampleRun;
    const Figures& figures_;
    WorldCircuit worlds_;
    std::optional<Condition> condition_;
    std::vector<std::size_t> within_, free_;  // roots; the condition is the first of those within it
};

}  // namespace saggar::weighing
