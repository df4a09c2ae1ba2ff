#include "queries/disputes.h"

#include <algorithm>

#include "kg/weigh/sides.h"
#include "queries/dispute_stake.h"
#include "queries/privacy.h"

namespace saggar {
namespace {

constexpr double nothing = 1e-9;  // below: rounding
constexpr double least_of_rulings = .01;  // a quarrel of people over evidence without contradiction comes behind the others

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
    // The rulings on a claim that may be shown.
    std::vector<RulingStanding> rulings_on(ClaimRef claim) {
        std::vector<RulingStanding> rulings = standing_of(snapshot_, gatherer_, claim);
        std::erase_if(rulings, [this](const RulingStanding& one) { return !privacy_.may_show(one.ruling); });
        return rulings;
    }

    bool has_two_rulings(ClaimRef claim) { return privacy_.may_show(claim) && disagree(rulings_on(claim)); }

    std::optional<Ranked> rank(Quarrel quarrel) {
        const bool ruled = quarrel.kinds.count(DisputeKind::rulings) != 0 &&
                           std::any_of(quarrel.claims.begin(), quarrel.claims.end(), [this](ClaimRef claim) { return has_two_rulings(claim); });
        if (!ruled) quarrel.kinds.erase(DisputeKind::rulings);
        if (question_.kind && !quarrel.kinds.count(*question_.kind)) return std::nullopt;
        Ranked one;
        for (const ClaimRef claim : quarrel.claims) {
            const Sides sides = sides_of(gatherer_, weigher_.profile(), claim);
            if (sides.in_favour <= nothing && !(ruled && has_two_rulings(claim))) continue;  // taken back, or denied by everybody
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
        if (one.both <= nothing) one.quarrel.kinds = ruled ? std::set<DisputeKind>{DisputeKind::rulings} : std::set<DisputeKind>{};
        if (one.quarrel.claims.empty() || (one.both <= nothing && !ruled) || one.both < question_.least) return std::nullopt;
        if (question_.unsettled && settled(one.quarrel.claims)) return std::nullopt;
        one.resting = resting_on(snapshot_, one.quarrel.claims);
        one.rank = std::max(one.both, ruled ? least_of_rulings : 0) * static_cast<double>(1 + one.resting);
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
        bool decided = false;
        for (const ClaimRef claim : claims) {
            const auto rulings = rulings_on(claim);
            if (disagree(rulings)) return false;
            decided = decided || decides(rulings);
        }
        return decided;
    }

    static bool decides(const std::vector<RulingStanding>& rulings) {
        return std::any_of(rulings.begin(), rulings.end(), [](const RulingStanding& one) {
            return !one.superseded && !one.stale() && one.ruling.decision != Ruling::Decision::left_open;
        });
    }

    Dispute explain(const Ranked& one) {
        Dispute dispute;
        dispute.kinds = one.quarrel.kinds;
        dispute.both = one.both;
        dispute.resting = one.resting;
        dispute.hidden = one.hidden;
        dispute.clashes = one.clashes;
        for (const ClaimRef claim : one.quarrel.claims) {
            dispute.views.push_back({weigher_.weigh(claim), rulings_on(claim)});
        }
        dispute.settled = settled(one.quarrel.claims);
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
