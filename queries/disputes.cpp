#include "queries/disputes.h"

#include <algorithm>

#include "kg/model/vocabulary.h"
#include "queries/dispute_stake.h"
#include "queries/privacy.h"

namespace saggar {
namespace {

constexpr double no_contradiction = 1e-9;  // below: rounding

// A quarrel that has come to something, not yet explained.
struct Ranked {
    Quarrel quarrel;
    std::vector<double> supports;  // beside quarrel.claims
    double both = 0;
    std::size_t resting = 0;
    std::size_t hidden = 0;
    double rank = 0;
};

class Disputes {
public:
    Disputes(const Snapshot& snapshot, Weigher& weigher, const DisputesQuestion& question)
        : snapshot_(snapshot), weigher_(weigher), question_(question), privacy_(snapshot, question.with_private),
          gatherer_(snapshot, weigher.profile()) {}

    DisputesAnswer answer() {
        std::vector<Ranked> ranked;
        for (Quarrel& quarrel : find_quarrels(snapshot_, weigher_.profile(), question_.thing))
            if (auto one = rank(std::move(quarrel))) ranked.push_back(std::move(*one));
        std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) { return a.rank > b.rank; });
        DisputesAnswer answer;
        answer.found = ranked.size();
        if (ranked.size() > question_.most) ranked.resize(question_.most);
        for (const Ranked& one : ranked) answer.disputes.push_back(explain(one));
        return answer;
    }

private:
    std::optional<Ranked> rank(Quarrel quarrel) {
        if (question_.kind && !quarrel.kinds.count(*question_.kind)) return std::nullopt;
        Ranked one;
        for (const ClaimRef claim : quarrel.claims) {
            if (!privacy_.may_show(claim)) {
                ++one.hidden;
                continue;
            }
            const Masses masses = weigher_.masses(claim);
            one.quarrel.claims.push_back(claim);
            one.supports.push_back(masses.support().value_or(0));
            one.both = std::max(one.both, masses.both);
        }
        one.quarrel.kinds = std::move(quarrel.kinds);
        if (one.quarrel.claims.empty() || !comes_to_something(one) || one.both < question_.least) return std::nullopt;
        if (question_.unsettled && settled(one.quarrel.claims)) return std::nullopt;
        one.resting = resting_on(snapshot_, one.quarrel.claims);
        one.rank = one.both * static_cast<double>(1 + one.resting);
        return one;
    }

    // Contradictory somewhere; or several views supported, where the vocabulary does not say that they exclude each other.
    static bool comes_to_something(const Ranked& one) {
        if (one.both > no_contradiction) return true;
        return std::count_if(one.supports.begin(), one.supports.end(), [](double support) { return support > 0; }) > 1;
    }

    bool settled(const std::vector<ClaimRef>& claims) {
        return std::any_of(claims.begin(), claims.end(), [&](ClaimRef claim) {
            const auto rulings = standing_of(snapshot_, gatherer_, claim);
            return !rulings.empty() && decides(rulings.front());
        });
    }

    static bool decides(const RulingStanding& ruling) {
        return !ruling.superseded && !ruling.stale() && ruling.ruling.decision != Ruling::Decision::left_open;
    }

    bool exclude_each_other(const Dispute& dispute) const {
        const RelationId relation = dispute.views.front().weight.claim.relation;
        const Relation* known = snapshot_.vocabulary().find_relation(snapshot_.relation_name(relation));
        return known && known->at_most_one;
    }

    Dispute explain(const Ranked& one) {
        Dispute dispute;
        dispute.kinds = one.quarrel.kinds;
        dispute.both = one.both;
        dispute.resting = one.resting;
        dispute.hidden = one.hidden;
        for (const ClaimRef claim : one.quarrel.claims) {
            DisputeView view{weigher_.weigh(claim), standing_of(snapshot_, gatherer_, claim)};
            std::erase_if(view.rulings, [this](const RulingStanding& ruling) { return !privacy_.may_show(ruling.ruling); });
            dispute.settled = dispute.settled || (!view.rulings.empty() && decides(view.rulings.front()));
            dispute.views.push_back(std::move(view));
        }
        std::stable_sort(dispute.views.begin(), dispute.views.end(), [](const DisputeView& a, const DisputeView& b) {
            return a.weight.support > b.weight.support;
        });
        std::vector<Weight> weights;
        for (const DisputeView& view : dispute.views) weights.push_back(view.weight);
        dispute.missing = missing_evidence(snapshot_, weigher_.profile(), weights, exclude_each_other(dispute));
        if (dispute.missing && dispute.missing->source && !privacy_.may_show(dispute.missing->source)) dispute.missing.reset();
        return dispute;
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    const DisputesQuestion& question_;
    Privacy privacy_;
    Gatherer gatherer_;
};

}  // namespace

DisputesAnswer disputes(const Snapshot& snapshot, Weigher& weigher, const DisputesQuestion& question) {
    return Disputes(snapshot, weigher, question).answer();
}

}  // namespace saggar
