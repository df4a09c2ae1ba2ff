#include "queries/date_solver.h"

#include <algorithm>

namespace saggar {

namespace {

using time::TimeLabel;
using time::TimeNetwork;

void without_repeats(std::vector<ClaimRef>& claims) {
    std::sort(claims.begin(), claims.end());
    claims.erase(std::unique(claims.begin(), claims.end()), claims.end());
}

// The smallest range that holds all stints still possible.
struct Hull {
    std::int64_t first = time::no_latest;
    std::int64_t last = time::no_earliest;
    void add(const DateStint& stint) {
        first = std::min(first, stint.first);
        last = std::max(last, stint.last);
    }
};

// Which stints of the periods in use are still possible.
struct Stints {
    std::vector<std::size_t> periods;             // in use
    std::vector<std::vector<std::size_t>> alive;  // beside `periods`
};

}  // namespace

const DateReason* DateSolver::reason_of(TimeLabel label) const {
    return label < its_.reasons.size() ? &its_.reasons[label] : nullptr;
}

const DatePeriod* DateSolver::period_of(TimeLabel label) const {
    if (label == time::always || label < its_.reasons.size()) return nullptr;
    return &its_.periods[label - its_.reasons.size()];
}

std::vector<ClaimRef> DateSolver::claims_of(TimeLabel label, const DateOutcome& outcome) const {
    if (label == time::always) return {};
    if (const DateReason* reason = reason_of(label)) return reason->claims;
    std::vector<ClaimRef> claims = period_of(label)->claims();
    for (const StruckStint& struck : outcome.struck) {
        if (struck.period == label - its_.reasons.size())
            claims.insert(claims.end(), struck.because.begin(), struck.because.end());
    }
    without_repeats(claims);
    return claims;
}

void DateSolver::add_claims(const std::vector<TimeLabel>& labels, const DateOutcome& outcome,
                            std::vector<ClaimRef>& claims) const {
    for (const TimeLabel label : labels) {
        const auto behind = claims_of(label, outcome);
        claims.insert(claims.end(), behind.begin(), behind.end());
    }
    without_repeats(claims);
}

TimeNetwork DateSolver::network_of(const Keep& keep) const {
    TimeNetwork network;
    for (std::size_t i = 1; i < its_.points.size(); ++i) network.add_point();
    std::vector<bool> kept(its_.reasons.size());
    for (std::size_t i = 0; i < its_.reasons.size(); ++i) {
        kept[i] = std::all_of(its_.reasons[i].claims.begin(), its_.reasons[i].claims.end(), keep);
    }
    for (const time::TimeLimit& limit : its_.limits) {
        if (limit.label == time::always || kept[limit.label])
            network.limit(limit.from, limit.to, limit.at_most, limit.label);
    }
    return network;
}

// False: some period has no stint left; the contradiction is in the outcome. Otherwise the hulls are in its network.
bool DateSolver::strike_stints(const Keep& keep, DateOutcome& outcome) const {
    const TimeNetwork plain = outcome.network;
    const auto label_of = [&](std::size_t period) { return static_cast<TimeLabel>(its_.reasons.size() + period); };
    Stints stints;
    for (std::size_t i = 0; i < its_.periods.size(); ++i) {
        const auto claims = its_.periods[i].claims();
        if (!std::all_of(claims.begin(), claims.end(), keep)) continue;
        stints.periods.push_back(i);
        stints.alive.emplace_back();
        for (std::size_t j = 0; j < its_.periods[i].stints.size(); ++j) stints.alive.back().push_back(j);
    }
    const auto with_hulls = [&](std::size_t leave_out) {
        TimeNetwork network = plain;
        for (std::size_t k = 0; k < stints.periods.size(); ++k) {
            if (k == leave_out) continue;
            const DatePeriod& period = its_.periods[stints.periods[k]];
            Hull hull;
            for (const std::size_t j : stints.alive[k]) hull.add(period.stints[j]);
            network.limit_to(period.point, hull.first, hull.last, label_of(stints.periods[k]));
        }
        return network;
    };
    for (bool changed = true; changed;) {
        changed = false;
        for (std::size_t k = 0; k < stints.periods.size(); ++k) {
            const std::size_t number = stints.periods[k];
            const DatePeriod& period = its_.periods[number];
            for (std::size_t at = 0; at < stints.alive[k].size();) {
                const DateStint& stint = period.stints[stints.alive[k][at]];
                TimeNetwork network = with_hulls(k);
                network.limit_to(period.point, stint.first, stint.last, label_of(number));
                const auto tried = time::solve_times(network);
                if (tried.consistent) {
                    ++at;
                    continue;
                }
                StruckStint struck{number, stints.alive[k][at], {}};
                add_claims(tried.contradiction, outcome, struck.because);
                outcome.struck.push_back(std::move(struck));
                stints.alive[k].erase(stints.alive[k].begin() + static_cast<std::ptrdiff_t>(at));
                changed = true;
            }
            if (stints.alive[k].empty()) {
                outcome.consistent = false;
                outcome.contradiction = claims_of(label_of(number), outcome);
                return false;
            }
        }
    }
    outcome.network = with_hulls(stints.periods.size());
    return true;
}

// As solve, but the contradiction may hold claims that can be spared.
DateOutcome DateSolver::try_to_solve(const Keep& keep) const {
    DateOutcome outcome;
    outcome.network = network_of(keep);
    outcome.solution = time::solve_times(outcome.network);
    if (outcome.solution.consistent && !its_.periods.empty()) {
        if (!strike_stints(keep, outcome)) return outcome;
        outcome.solution = time::solve_times(outcome.network);
    }
    outcome.consistent = outcome.solution.consistent;
    if (!outcome.consistent) add_claims(outcome.solution.contradiction, outcome, outcome.contradiction);
    return outcome;
}

std::vector<ClaimRef> DateSolver::cut_down(std::vector<ClaimRef> claims) const {
    for (std::size_t i = 0; i < claims.size();) {
        std::vector<ClaimRef> fewer = claims;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
        const auto tried =
            try_to_solve([&](ClaimRef claim) { return std::binary_search(fewer.begin(), fewer.end(), claim); });
        if (tried.consistent) {
            ++i;
        } else {
            claims = tried.contradiction;  // a part of `fewer`; the claims before i are needed in it too
        }
    }
    return claims;
}

DateOutcome DateSolver::solve(const Keep& keep) const {
    DateOutcome outcome = try_to_solve(keep);
    if (!outcome.consistent) outcome.contradiction = cut_down(std::move(outcome.contradiction));
    return outcome;
}

}  // namespace saggar
