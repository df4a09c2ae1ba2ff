#include "queries/dating.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/date_solver.h"

namespace saggar {

namespace {

using time::Day;
using time::TimePoint;

Day day_of_earliest(std::int64_t count) { return count == time::no_earliest ? time::before_all : Day{count}; }
Day day_of_latest(std::int64_t count) { return count == time::no_latest ? time::after_all : Day{count}; }

class Dater {
public:
    Dater(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules, const DatingQuestion& question)
        : snapshot_(snapshot),
          weigher_(weigher),
          rules_(rules),
          question_(question),
          constraints_(date_constraints(snapshot, rules, question.thing, reach())),
          solver_(constraints_) {}

    DatingAnswer date() {
        answer_.thing = question_.thing;
        answer_.limits = constraints_.limits.size();
        answer_.dated_claims = constraints_.dated_claims;
        answer_.complete = constraints_.complete;
        answer_.least_support = question_.least_support;
        solve();
        for (const std::string& point : rules_.points_of(snapshot_.kind_of(question_.thing))) add_point(point);
        add_run();
        for (const StruckStint& struck : outcome_.struck) {
            answer_.struck.push_back({constraints_.periods[struck.period].stints[struck.stint].claim, struck.because});
        }
        return std::move(answer_);
    }

private:
    DateReach reach() const {
        DateReach reach;
        reach.conventions = question_.conventions;
        reach.conventions.about = weigher_.profile().about_years;
        reach.with_private = question_.with_private;
        reach.most_points = question_.most_points;
        return reach;
    }

    bool is_weak(ClaimRef claim) { return !(weigher_.support(claim) >= question_.least_support); }

    // Leaves out claims that are too weak among these. True: there were any.
    bool leave_out_weak(const std::vector<ClaimRef>& claims) {
        bool any = false;
        for (const ClaimRef claim : claims) {
            if (without_.count(claim) || !is_weak(claim)) continue;
            without_.insert(claim);
            answer_.too_weak.push_back({claim, weigher_.support(claim)});
            any = true;
        }
        return any;
    }

    // Only claims that contradict or bind are weighed: a weak claim that does neither changes nothing.
    void solve() {
        for (;;) {
            outcome_ = solver_.solve([this](ClaimRef claim) { return without_.count(claim) == 0; });
            if (!outcome_.consistent) {
                if (!leave_out_weak(outcome_.contradiction)) set_aside_weakest();
            } else if (!leave_out_weak(binding_claims()) && !take_back_one()) {
                name_those_set_aside();
                return;
            }
        }
    }

    void set_aside_weakest() {
        if (answer_.contradictions.size() >= question_.most_contradictions) {
            throw LimitFault(fmt::format("the dates in reach of {} contradict each other more than {} times",
                                         snapshot_.key_of(question_.thing), question_.most_contradictions),
                             "look at its disputes first, or ask with a higher least support");
        }
        record_contradiction(outcome_.contradiction);
        const ClaimRef weakest = answer_.contradictions.back().claims.back().claim;
        find_more_against(weakest, outcome_.contradiction);
        without_.insert(weakest);
        set_aside_.insert(weakest);
    }

    // The claims with their support, strongest first. Among equally strong ones the order goes by content, not by entry.
    void record_contradiction(const std::vector<ClaimRef>& claims) {
        DatingContradiction contradiction;
        for (const ClaimRef claim : claims) contradiction.claims.push_back({claim, weigher_.support(claim)});
        std::sort(contradiction.claims.begin(), contradiction.claims.end(),
                  [this](const WeighedClaim& a, const WeighedClaim& b) {
                      return a.support != b.support ? a.support > b.support
                                                    : snapshot_.content_of(b.claim) < snapshot_.content_of(a.claim);
                  });
        answer_.contradictions.push_back(std::move(contradiction));
    }

    // What else contradicts the claim: the same question without the dates that were found to.
    void find_more_against(ClaimRef claim, std::vector<ClaimRef> contradiction) {
        constexpr int most_more = 3;
        std::set<ClaimRef> without = without_;
        for (int i = 0; i < most_more; ++i) {
            for (const ClaimRef other : contradiction) {
                if (other != claim && is_dating(other)) without.insert(other);
            }
            const auto tried = solver_.solve([&](ClaimRef one) { return without.count(one) == 0; });
            if (tried.consistent ||
                std::find(tried.contradiction.begin(), tried.contradiction.end(), claim) == tried.contradiction.end()) {
                return;
            }
            if (std::any_of(tried.contradiction.begin(), tried.contradiction.end(),
                            [this](ClaimRef one) { return is_weak(one); }))
                return;
            record_contradiction(tried.contradiction);
            contradiction = tried.contradiction;
        }
    }

    bool is_dating(ClaimRef claim) const {
        return std::any_of(constraints_.reasons.begin(), constraints_.reasons.end(), [claim](const DateReason& reason) {
            return reason.order == nullptr && reason.claims.front() == claim;
        });
    }

    // A claim set aside early may be able to hold after all, now that others are gone. The strongest is tried first.
    bool take_back_one() {
        std::vector<ClaimRef> tries(set_aside_.begin(), set_aside_.end());
        std::sort(tries.begin(), tries.end(), [this](ClaimRef a, ClaimRef b) {
            const double support_a = weigher_.support(a), support_b = weigher_.support(b);
            return support_a != support_b ? support_a > support_b : snapshot_.content_of(a) < snapshot_.content_of(b);
        });
        for (const ClaimRef claim : tries) {
            if (!solver_.solve([&](ClaimRef one) { return one == claim || without_.count(one) == 0; }).consistent)
                continue;
            without_.erase(claim);
            set_aside_.erase(claim);
            return true;
        }
        return false;
    }

    void name_those_set_aside() {
        for (DatingContradiction& contradiction : answer_.contradictions) {
            for (const WeighedClaim& claim : contradiction.claims) {
                if (without_.count(claim.claim)) contradiction.set_aside = claim.claim;
            }
        }
    }

    std::vector<ClaimRef> binding_claims() {
        std::vector<ClaimRef> claims;
        const auto add_chain = [&](const std::vector<std::uint32_t>& chain) {
            for (const auto limit : chain) {
                const auto behind = solver_.claims_of(outcome_.network.limits()[limit].label, outcome_);
                claims.insert(claims.end(), behind.begin(), behind.end());
            }
        };
        for (const auto& [name, point] : constraints_.asked) {
            add_chain(outcome_.solution.chain_of_earliest(outcome_.network, point));
            add_chain(outcome_.solution.chain_of_latest(outcome_.network, point));
        }
        return claims;
    }

    // The steps of a chain of limits, from the origin outwards.
    DatingBound bound_of(const std::vector<std::uint32_t>& chain, bool is_earliest) const {
        DatingBound bound;
        bound.is_earliest = is_earliest;
        std::int64_t sum = 0;
        for (const auto index : chain) {
            const time::TimeLimit& limit = outcome_.network.limits()[index];
            const TimePoint reached = is_earliest ? limit.from : limit.to;
            sum += is_earliest ? -limit.at_most : limit.at_most;
            DatingStep step{
                constraints_.points[reached].thing, constraints_.points[reached].point, Day{sum}, {}, {}, 0};
            step.claims = solver_.claims_of(limit.label, outcome_);
            if (const DatePeriod* period = solver_.period_of(limit.label)) {
                step.rule = period->rule->label;
                step.slack_months = period->rule->slack_months;
            } else if (const TimeOrderRule* order = order_of(limit)) {
                step.rule = order->label;
                step.slack_months = order->slack_months;
            }
            for (const ClaimRef claim : step.claims) {
                if (std::find(bound.because.begin(), bound.because.end(), claim) == bound.because.end()) {
                    bound.because.push_back(claim);
                }
            }
            bound.steps.push_back(std::move(step));
        }
        bound.day = Day{sum};
        return bound;
    }

    // The order behind a limit; one that always holds joins two points of one thing.
    const TimeOrderRule* order_of(const time::TimeLimit& limit) const {
        if (const DateReason* reason = solver_.reason_of(limit.label)) return reason->order;
        if (limit.label != time::always) return nullptr;
        const DatePoint& later = constraints_.points[limit.from];
        const DatePoint& earlier = constraints_.points[limit.to];
        for (const TimeOrderRule& order : rules_.orders) {
            if (order.via.empty() && order.earlier.point == earlier.point && order.later.point == later.point)
                return &order;
        }
        return nullptr;
    }

    // Every limit that touches the point directly gives a bound, by the chain behind its other end.
    std::vector<DatingBound> bounds_of(TimePoint point, bool is_earliest) {
        std::vector<std::vector<std::uint32_t>> chains;
        const auto& limits = outcome_.network.limits();
        for (std::uint32_t i = 0; i < limits.size(); ++i) {
            const TimePoint here = is_earliest ? limits[i].from : limits[i].to;
            const TimePoint there = is_earliest ? limits[i].to : limits[i].from;
            if (here != point) continue;
            auto chain = is_earliest ? outcome_.solution.chain_of_earliest(outcome_.network, there)
                                     : outcome_.solution.chain_of_latest(outcome_.network, there);
            const bool comes_back = std::any_of(chain.begin(), chain.end(), [&](std::uint32_t index) {
                return (is_earliest ? limits[index].from : limits[index].to) == point;
            });
            if (comes_back || (chain.empty() && there != time::TimeNetwork::origin)) continue;
            chain.push_back(i);
            chains.push_back(std::move(chain));
        }
        std::vector<DatingBound> bounds;
        for (const auto& chain : chains) bounds.push_back(bound_of(chain, is_earliest));
        std::stable_sort(bounds.begin(), bounds.end(), [is_earliest](const DatingBound& a, const DatingBound& b) {
            return is_earliest ? a.day > b.day : a.day < b.day;
        });
        return bounds;
    }

    void add_point(const std::string& name) {
        const TimePoint point = constraints_.asked.at(name);
        const time::TimeRange& range = outcome_.solution.ranges[point];
        DatedPoint dated{name,
                         rules_.label_of(snapshot_.kind_of(question_.thing), name),
                         day_of_earliest(range.earliest),
                         day_of_latest(range.latest),
                         {}};
        for (const bool is_earliest : {true, false}) {
            std::size_t kept = 0;
            for (DatingBound& bound : bounds_of(point, is_earliest)) {
                if (kept == most_bounds) break;
                if (std::any_of(bound.because.begin(), bound.because.end(),
                                [this](ClaimRef claim) { return is_weak(claim); }))
                    continue;
                bound.binds = bound.day == (is_earliest ? dated.earliest : dated.latest);
                dated.bounds.push_back(std::move(bound));
                ++kept;
            }
        }
        answer_.points.push_back(std::move(dated));
    }

    const DatedPoint* find_point(const std::string& name) const {
        for (const DatedPoint& point : answer_.points) {
            if (point.point == name) return &point;
        }
        return nullptr;
    }

    void add_run() {
        const auto bound = [](Day day) {
            return time::Bound{time::is_limit(day) ? time::Bound::Kind::unknown : time::Bound::Kind::day, day};
        };
        answer_.run = {bound(time::before_all), bound(time::after_all), bound(time::before_all),
                       bound(time::after_all)};
        const TimeRunRule* rule = rules_.run_of(snapshot_.kind_of(question_.thing));
        if (!rule) return;
        answer_.run_start = rule->start;
        answer_.run_end = rule->end;
        const DatedPoint* start = find_point(rule->start);
        const DatedPoint* end = find_point(rule->end);
        answer_.run = {bound(start->earliest), bound(start->latest), bound(end->earliest), bound(end->latest)};
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    const TimeRules& rules_;
    const DatingQuestion& question_;
    DateConstraints constraints_;
    DateSolver solver_;
    DateOutcome outcome_;
    std::set<ClaimRef> without_;  // too weak, or set aside
    std::set<ClaimRef> set_aside_;
    DatingAnswer answer_;
};

}  // namespace

DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules,
                        const DatingQuestion& question) {
    const std::string kind(snapshot.kind_of(question.thing));
    if (rules.points_of(kind).empty()) {
        throw UsageFault(
            fmt::format("things of kind \"{}\" have no time points in this vocabulary", kind),
            "ask about a shape, an item, a line, a treatment, a mark or a piece, or add time rules to the vocabulary");
    }
    return Dater(snapshot, weigher, rules, question).date();
}

DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question) {
    return date_thing(snapshot, weigher, TimeRules::of(snapshot.vocabulary()), question);
}

}  // namespace saggar
