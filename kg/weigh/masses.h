// The four masses of a claim and what is said of them.
//
// The evidence may argue for a claim only, against it only, for both at once, or for neither; the four chances sum to
// 1. Contradictory worlds are shown, then left out: support = for / (1 - both), possibility = 1 - against / (1 - both).
// Support is how far the evidence argues for the claim; it is not a probability that the claim is true.
// After Haenni, Kohlas, Lehmann, "Probabilistic argumentation systems" (2000), and Shafer, "A mathematical theory of
// evidence" (1976).
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace saggar {

class Profile;

struct Masses {
    double for_only = 0;
    double against_only = 0;
    double both = 0;
    double neither = 1;

    // P(no contradiction), from its parts and not as 1 - both.
    double consistent() const { return for_only + against_only + neither; }
    // Nothing where every world is contradictory.
    std::optional<double> support() const;
    std::optional<double> possibility() const;
    // The same question asked of the claim's denial.
    Masses of_denial() const { return {against_only, for_only, both, neither}; }
    bool operator==(const Masses&) const = default;
};

// How much of the evidence contradicts itself, by the limits of the profile.
enum class Clarity : std::uint8_t {
    clear,
    contested,
    contradictory,  // "the sources contradict each other": show both sides, no single figure
    no_figure,      // so contradictory that a normalised figure would mislead
};
Clarity clarity_of(double both, const Profile& profile);
// "clear", "contested", "contradictory", "no figure".
std::string word_for(Clarity clarity);

// What a bet would be at, given the base rate of the reference class: the base rate's odds times the ratio of the
// possibilities of the claim and of its denial (Dempster's rule with a Bayesian prior; Shafer 1976, chapter 9). It is
// shown beside the weight, never in it. Nothing where both possibilities are 0.
std::optional<double> betting_figure(const Masses& masses, double base_rate);

// The number with no more digits than it carries: three for exact figures, for sampled ones as many as the half-width
// allows (.01: two, .1: one). "0.84", "1.000".
std::string figure_text(double value, double half_width);

}  // namespace saggar
