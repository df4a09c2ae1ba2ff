#include "queries/date_settle.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "kg/model/fault.h"

namespace saggar {

namespace {

using time::TimePoint;

// A date that a claim gives to a point.
struct OwnDate {
    time::TimeLabel label = time::always;
    std::int64_t first = time::no_earliest;
    std::int64_t last = time::no_latest;
};

class Settler {
public:
    Settler(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question,
            const DateConstraints& constraints)
        : snapshot_(snapshot),
          weigher_(weigher),
          question_(question),
          constraints_(constraints),
          solver_(constraints) {}

    DateSettlement settle() {
        solve();
        return std::move(settled_);
    }

private:
    bool is_weak(ClaimRef claim) { return !(weigher_.support_alone(claim) >= question_.least_support); }

    // Leaves out claims that are too weak among these. True: there were any.
    bool leave_out_weak(const std::vector<ClaimRef>& claims) {
        bool any = false;
        for (const ClaimRef claim : claims) {
            if (without_.count(claim) || !is_weak(claim)) continue;
            without_.insert(claim);
            settled_.too_weak.push_back({claim, weigher_.support_alone(claim)});
            any = true;
        }
        return any;
    }

    // Only claims that contradict or bind are weighed: a weak claim that does neither changes nothing.
    void solve() {
        settle_single_points();
        for (;;) {
            settled_.outcome = solver_.solve([this](ClaimRef claim) { return without_.count(claim) == 0; });
            if (!settled_.outcome.consistent) {
                if (leave_out_weak(settled_.outcome.contradiction)) continue;
                const std::vector<ClaimRef> contradiction = settled_.outcome.contradiction;
                find_more_against(set_aside_weakest(contradiction), contradiction);
            } else if (!leave_out_weak(binding_claims()) && !take_back_one()) {
                name_those_set_aside();
                return;
            }
        }
    }

    // Dates of one point that leave no day in common: the one that begins last and the one that ends first contradict each
    // other (on a line, what meets pairwise meets all together). The network would find them too, one at a time.
    void settle_single_points() {
        std::map<TimePoint, std::vector<OwnDate>> dates;
        for (const time::TimeLimit& limit : constraints_.limits) {
            if (limit.label == time::always || constraints_.reasons[limit.label].order) continue;
            const TimePoint point = limit.from == time::TimeNetwork::origin ? limit.to : limit.from;
            auto& own = dates[point];
            if (own.empty() || own.back().label != limit.label) own.push_back({limit.label});
            (limit.from == time::TimeNetwork::origin ? own.back().last : own.back().first) =
                limit.from == time::TimeNetwork::origin ? limit.at_most : -limit.at_most;
        }
        for (auto& [point, own] : dates) settle_point(own);
    }

    void settle_point(std::vector<OwnDate>& own) {
        while (own.size() > 1) {
            const auto begins_last = std::max_element(own.begin(), own.end(),
                                                      [](const auto& a, const auto& b) { return a.first < b.first; });
            const auto ends_first =
                std::min_element(own.begin(), own.end(), [](const auto& a, const auto& b) { return a.last < b.last; });
            if (begins_last->first <= ends_first->last) return;
            std::vector<ClaimRef> pair{claim_of(*begins_last), claim_of(*ends_first)};
            std::sort(pair.begin(), pair.end());
            if (!leave_out_weak(pair)) set_aside_weakest(pair);
            own.erase(std::remove_if(own.begin(), own.end(),
                                     [this](const OwnDate& one) { return without_.count(claim_of(one)) != 0; }),
                      own.end());
        }
    }
    ClaimRef claim_of(const OwnDate& date) const { return constraints_.reasons[date.label].claims.front(); }

    // The weakest claim of the contradiction, set aside.
    ClaimRef set_aside_weakest(const std::vector<ClaimRef>& claims) {
        if (clashes_.size() >= question_.most_contradictions) {
            throw LimitFault(fmt::format("the dates in reach of {} contradict each other more than {} times",
                                         snapshot_.key_of(question_.thing), question_.most_contradictions),
                             "look at its disputes first, or ask with a higher least support");
        }
        clashes_.push_back(weighed(claims));
        const ClaimRef weakest = clashes_.back().claims.back().claim;
        without_.insert(weakest);
        set_aside_.insert(weakest);
        return weakest;
    }

    // The claims with their support, strongest first. Among equally strong ones the order goes by content, not by entry.
    DatingContradiction weighed(const std::vector<ClaimRef>& claims) {
        DatingContradiction contradiction;
        for (const ClaimRef claim : claims) contradiction.claims.push_back({claim, weigher_.support_alone(claim)});
        std::sort(contradiction.claims.begin(), contradiction.claims.end(),
                  [this](const WeighedClaim& a, const WeighedClaim& b) {
                      return a.support != b.support ? a.support > b.support
                                                    : snapshot_.content_of(b.claim) < snapshot_.content_of(a.claim);
                  });
        return contradiction;
    }

    // What else contradicts a claim set aside: the same question, with the claim, without the dates that were found to.
    void find_more_against(ClaimRef claim, std::vector<ClaimRef> contradiction) {
        constexpr int most_more = 3;
        std::set<ClaimRef> without = without_;
        without.erase(claim);
        for (int i = 0; i < most_more && clashes_.size() < question_.most_contradictions; ++i) {
            for (const ClaimRef other : contradiction) {
                if (other != claim && is_dating(other)) without.insert(other);
            }
            const auto tried = solver_.solve([&](ClaimRef one) { return without.count(one) == 0; });
            contradiction = tried.contradiction;
            if (std::find(contradiction.begin(), contradiction.end(), claim) == contradiction.end()) return;
            if (std::any_of(contradiction.begin(), contradiction.end(), [this](ClaimRef one) { return is_weak(one); }))
                return;
            clashes_.push_back(weighed(contradiction));
        }
    }

    bool is_dating(ClaimRef claim) const {
        return std::any_of(constraints_.reasons.begin(), constraints_.reasons.end(), [claim](const DateReason& reason) {
            return reason.order == nullptr && reason.claims.front() == claim;
        });
    }

    // Whether each contradiction that names the claim has lost another member.
    bool may_come_back(ClaimRef claim) const {
        return std::all_of(clashes_.begin(), clashes_.end(), [&](const DatingContradiction& clash) {
            const auto& claims = clash.claims;
            const bool named =
                std::any_of(claims.begin(), claims.end(), [&](const auto& one) { return one.claim == claim; });
            return !named || std::any_of(claims.begin(), claims.end(), [&](const auto& one) {
                return one.claim != claim && without_.count(one.claim) != 0;
            });
        });
    }

    // A claim set aside early may be able to hold after all, now that others are gone. The strongest is tried first.
    bool take_back_one() {
        std::vector<ClaimRef> tries;
        std::copy_if(set_aside_.begin(), set_aside_.end(), std::back_inserter(tries),
                     [this](ClaimRef claim) { return may_come_back(claim); });
        const DatingContradiction sorted = weighed(tries);
        for (const WeighedClaim& one : sorted.claims) {
            const auto tried =
                solver_.solve([&](ClaimRef claim) { return claim == one.claim || without_.count(claim) == 0; });
            if (!tried.consistent) continue;
            without_.erase(one.claim);
            set_aside_.erase(one.claim);
            return true;
        }
        return false;
    }

    void name_those_set_aside() {
        // What concerns the thing itself comes first.
        std::stable_partition(clashes_.begin(), clashes_.end(), [this](const DatingContradiction& clash) {
            return std::any_of(clash.claims.begin(), clash.claims.end(),
                               [this](const WeighedClaim& one) { return one.claim.subject == question_.thing; });
        });
        settled_.contradictions = std::move(clashes_);
        for (DatingContradiction& contradiction : settled_.contradictions) {
            for (const WeighedClaim& claim : contradiction.claims) {
                if (without_.count(claim.claim)) contradiction.set_aside = claim.claim;
            }
        }
    }

    std::vector<ClaimRef> binding_claims() {
        std::vector<ClaimRef> claims;
        const auto add_chain = [&](const std::vector<std::uint32_t>& chain) {
            for (const auto limit : chain) {
                const auto behind = solver_.claims_of(settled_.outcome.network.limits()[limit].label, settled_.outcome);
                claims.insert(claims.end(), behind.begin(), behind.end());
            }
        };
        for (const auto& [name, point] : constraints_.asked) {
            add_chain(settled_.outcome.solution.chain_of_earliest(settled_.outcome.network, point));
            add_chain(settled_.outcome.solution.chain_of_latest(settled_.outcome.network, point));
        }
        return claims;
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    const DatingQuestion& question_;
    const DateConstraints& constraints_;
    DateSolver solver_;
    DateSettlement settled_;
    std::set<ClaimRef> without_;  // too weak, or set aside
    std::set<ClaimRef> set_aside_;
    std::vector<DatingContradiction> clashes_;
};

}  // namespace

DateSettlement settle_dates(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question,
                            const DateConstraints& constraints) {
    return Settler(snapshot, weigher, question, constraints).settle();
}

}  // namespace saggar
