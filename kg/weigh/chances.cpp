#include "kg/weigh/chances.h"

#include <algorithm>

namespace saggar {

namespace {

// Whether a family's dependence is only a convention: stated independence and full dependence are not varied.
bool varies(const CaseFamily& family) { return family.unknown || (family.dependence > 0 && family.dependence < 1); }

double soundness(double dependence, double reliability) { return 1 - dependence * (1 - reliability); }

}  // namespace

Chances::Chances(const Case& question, const Assumptions& assumptions) : case_(question), misread_(assumptions.misread) {
    for (CaseIndex s = 0; s < question.sources.size(); ++s) {
        const SourceTerms& terms = question.sources[s];
        const auto changed = assumptions.reliability.find(s);
        reliability_.push_back(changed == assumptions.reliability.end() ? terms.reliability : changed->second);
        beta_.push_back(terms.within_stated ? terms.within : assumptions.dependence.value_or(terms.within));
    }
    for (const CaseFamily& family : question.families) {
        double most = family.most_reliable;
        for (const CaseIndex member : family.sources) most = std::max(most, reliability_[member]);
        const double beta = varies(family) ? assumptions.dependence.value_or(family.dependence) : family.dependence;
        family_.push_back(soundness(beta, most));
    }
    for (CaseIndex s = 0; s < question.sources.size(); ++s) {
        const double own = soundness(beta_[s], reliability_[s]);
        const double bound = family_factor(s);
        clamped_.push_back(own > bound);
        phi_.push_back(std::min(own, bound));
    }
}

double Chances::family_factor(CaseIndex source) const {
    const CaseIndex family = case_.family_of[source];
    return family == Case::no_family ? 1 : family_[family];
}

double Chances::of(const ChanceTerm& term) const {
    switch (term.kind) {
        case ChanceTerm::Kind::fixed: return term.share;
        case ChanceTerm::Kind::family: return family_[term.index];
        case ChanceTerm::Kind::source: {
            if (misread_ == term.index) return 0;
            const double factor = family_factor(term.index);
            return factor <= 0 ? 0 : std::min(1.0, phi_[term.index] / factor);
        }
        case ChanceTerm::Kind::alone: {
            if (misread_ == term.index) return 0;
            const double factor = family_factor(term.index);
            return factor <= 0 ? 0 : std::min(1.0, term.share * reliability_[term.index] / factor);
        }
        case ChanceTerm::Kind::reading:
            return phi_[term.index] <= 0 ? 0 : std::min(1.0, term.share * reliability_[term.index] / phi_[term.index]);
    }
    return 0;
}

double Chances::slope(const ChanceTerm& term) const {
    const CaseIndex s = term.index;
    if (term.kind == ChanceTerm::Kind::alone) {
        const double factor = family_factor(s);
        return factor <= 0 ? 0 : term.share / factor;
    }
    if (term.kind == ChanceTerm::Kind::source) {
        const double factor = family_factor(s);
        return clamped_[s] || factor <= 0 ? 0 : beta_[s] / factor;
    }
    if (term.kind == ChanceTerm::Kind::reading && phi_[s] > 0) {
        if (clamped_[s]) return term.share / phi_[s];
        return term.share * (phi_[s] - reliability_[s] * beta_[s]) / (phi_[s] * phi_[s]);
    }
    return 0;
}

std::vector<double> Chances::of(const std::vector<ChanceTerm>& terms) const {
    std::vector<double> result;
    result.reserve(terms.size());
    for (const ChanceTerm& term : terms) result.push_back(of(term));
    return result;
}

}  // namespace saggar
