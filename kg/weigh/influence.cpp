#include "kg/weigh/influence.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace saggar {

namespace {

constexpr double rounding = 1e-12;  // differences below this are rounding

double cleaned(double value) { return std::abs(value) < rounding ? 0 : std::clamp(value, 0.0, 1.0); }

struct SourceEffect {
    double slope = 0;
    double numerator_without = 0, consistent_without = 0;
    bool met = false;
};

}  // namespace

std::vector<Influence> influence_of(Question& question, const Reply& reply, std::size_t numerator,
                                    const Assumptions& assumptions) {
    const double top = reply.values[numerator], bottom = reply.values[Question::no_contradiction];
    if (bottom <= 0 || reply.slopes.empty()) return {};
    const Case& its = question.its_case();
    const Chances chances(its, assumptions);
    const auto& terms = question.lineage().terms();
    std::map<CaseIndex, SourceEffect> effects;
    const std::size_t variables = std::min(terms.size(), reply.slopes[numerator].size());
    for (std::size_t v = 0; v < variables; ++v) {
        const ChanceTerm& term = terms[question.lineage().lineage().label(static_cast<std::uint32_t>(v))];
        const bool whole = term.kind == ChanceTerm::Kind::source || term.kind == ChanceTerm::Kind::alone;
        if (!whole && term.kind != ChanceTerm::Kind::reading) continue;
        const double on_top = reply.slopes[numerator][v], on_bottom = reply.slopes[Question::no_contradiction][v];
        SourceEffect& effect = effects[term.index];
        effect.slope += (on_top * bottom - top * on_bottom) / (bottom * bottom) * chances.slope(term);
        if (whole) {
            effect.met = true;
            effect.numerator_without = top - chances.of(term) * on_top;
            effect.consistent_without = bottom - chances.of(term) * on_bottom;
        }
    }
    std::vector<Influence> influence;
    for (const auto& [source, effect] : effects) {
        if (!effect.met) continue;
        Influence one;
        one.source = its.sources[source].id;
        one.slope = std::abs(effect.slope) < rounding ? 0 : effect.slope;
        one.without = effect.consistent_without <= 0 ? 0 : cleaned(effect.numerator_without / effect.consistent_without);
        if (one.slope != 0 || std::abs(one.without - top / bottom) > rounding) influence.push_back(one);
    }
    std::map<EntityId, std::string> key;
    for (const SourceTerms& source : its.sources) key[source.id] = source.key;
    std::sort(influence.begin(), influence.end(), [&](const Influence& a, const Influence& b) {
        if (std::abs(std::abs(a.slope) - std::abs(b.slope)) > rounding) return std::abs(a.slope) > std::abs(b.slope);
        return key[a.source] < key[b.source];
    });
    return influence;
}

}  // namespace saggar
