// The chances of a case's lineage, as formulas that can be asked again under other assumptions.
//
// R2: with dependence beta, a source is sound with chance phi = 1 - beta (1 - r), and given that, a reading of weight
// r_e is good with chance r_e / phi; so every reading keeps exactly r_e, and two readings of one source are neither
// independent nor one. R3 is the same one level up: phi of the family from its most reliable member. A source's phi is
// never above its family's. phi depends on what is known of the sources, not on what was read in them, so a new reading
// never changes the weight of another. Fleming, "A reliability model for common mode failures" (1975) for the factor.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "kg/weigh/case.h"

namespace saggar {

struct ChanceTerm {
    enum class Kind : std::uint8_t {
        fixed,    // share itself: a step, a copy, a fidelity, a completeness
        family,   // the family is sound
        source,   // the source is sound, given its family
        reading,  // a reading of the source carries `share` of its reliability, given the source
        alone,    // source and reading in one, where the source is met in this reading only, given its family
    };
    Kind kind = Kind::fixed;
    CaseIndex index = 0;  // of the family or source
    double share = 1;
};

// Under which assumptions the figures are asked for.
struct Assumptions {
    std::optional<double> dependence;            // in place of every dependence that is only a convention
    std::map<CaseIndex, double> reliability;     // of sources, in place of the graph's
    std::optional<CaseIndex> misread;            // everything read in this source is bad

    bool none() const { return !dependence && reliability.empty() && !misread; }
};

class Chances {
public:
    Chances(const Case& question, const Assumptions& assumptions);

    double family(CaseIndex family) const { return family_[family]; }
    double of(const ChanceTerm& term) const;
    // d of(term) / d reliability of the source, with the family's chance held.
    double slope(const ChanceTerm& term) const;
    std::vector<double> of(const std::vector<ChanceTerm>& terms) const;

private:
    double family_factor(CaseIndex source) const;

    const Case& case_;
    std::optional<CaseIndex> misread_;
    std::vector<double> reliability_;  // per source
    std::vector<double> beta_;         // per source
    std::vector<double> phi_;          // per source
    std::vector<char> clamped_;        // per source: phi is the family's
    std::vector<double> family_;       // per family
};

}  // namespace saggar
