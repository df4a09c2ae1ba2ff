#include "queries/disputes.h"

#include <algorithm>

#include "kg/weigh/sides.h"
#include "queries/dispute_stake.h"
#include "queries/privacy.h"

namespace saggar {
namespace {

constexpr double nothing = 1e-9;  // below: rounding

// A quarrel that has come to something, not yet explained.
struct Ranked {
    Quarrel quarrel;
    std::vector<DisputeClash> clashes;
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
        Quarrels quarrels = find_quarrels(snapshot_, weigher_.profile(), question_.thing);
        for (Quarrel& quarrel : quarrels.found)
            if (auto one = rank(std::move(quarrel))) ranked.push_back(std::move(*one));
        std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) { return a.rank > b.rank; });
        DisputesAnswer answer;
        answer.times_compared = quarrels.times_compared;
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
            const Sides sides = sides_of(gatherer_, weigher_.profile(), claim);
            if (sides.in_favour <= nothing) continue;  // taken back, or denied by everybody
            if (!privacy_.may_show(claim)) {
                ++one.hidden;
                continue;
            }
            one.quarrel.claims.push_back(claim);
            one.both = std::max(one.both, sides.both);
        }
        one.quarrel.kinds = std::move(quarrel.kinds);
        one.quarrel.excluding = std::move(quarrel.excluding);
        for (TimeClash& clash : quarrel.clashes) add_clash(std::move(clash), one);
        if (one.both <= nothing) add_excluding(one);
        if (one.quarrel.claims.empty() || one.both <= nothing || one.both < question_.least) return std::nullopt;
        if (question_.unsettled && settled(one.quarrel.claims)) return std::nullopt;
        one.resting = resting_on(snapshot_, one.quarrel.claims);
        one.rank = one.both * static_cast<double>(1 + one.resting);
        return one;
    }

    void add_clash(TimeClash clash, Ranked& one) {
        Chain chain = clash.others;
        chain.push_back(clash.dated);
        if (!std::all_of(chain.begin(), chain.end(), [this](ClaimRef claim) { return privacy_.may_show(claim); })) return;
        WeighOptions options;
        options.explain = false;
        const double joint = weigher_.joint({&chain, 1}, options).raw;
        if (joint <= nothing) return;
        one.both = std::max(one.both, joint);
        one.clashes.push_back({std::move(clash), joint});
    }

    // Views that the weighing does not take for rivals, though their dates exclude each other: the chance that the evidence
    // argues for both at once.
    void add_excluding(Ranked& one) {
        for (const auto& [a, b] : one.quarrel.excluding) {
            const auto& kept = one.quarrel.claims;
            if (!(a < b) || !contains(kept, a) || !contains(kept, b)) continue;
            const Chain chain = {a, b};
            WeighOptions options;
            options.explain = false;
            one.both = std::max(one.both, weigher_.joint({&chain, 1}, options).raw);
        }
    }

    static bool contains(const std::vector<ClaimRef>& claims, ClaimRef claim) {
        return std::find(claims.begin(), claims.end(), claim) != claims.end();
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

    Dispute explain(const Ranked& one) {
        Dispute dispute;
        dispute.kinds = one.quarrel.kinds;
        dispute.both = one.both;
        dispute.resting = one.resting;
        dispute.hidden = one.hidden;
        dispute.clashes = one.clashes;
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
        dispute.missing = missing_evidence(snapshot_, weigher_, weights, one.quarrel.excluding);
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
