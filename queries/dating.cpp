#include "queries/dating.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/date_settle.h"

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
        DateSettlement settled = settle_dates(snapshot_, weigher_, question_, constraints_);
        outcome_ = std::move(settled.outcome);
        answer_.contradictions = std::move(settled.contradictions);
        answer_.too_weak = std::move(settled.too_weak);
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

    bool is_weak(ClaimRef claim) { return !(weigher_.support_alone(claim) >= question_.least_support); }

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
    DatingAnswer answer_;
};

}  // namespace

DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const TimeRules& rules,
                        const DatingQuestion& question) {
    const std::string kind(snapshot.kind_of(question.thing));
    if (rules.points_of(kind).empty()) {
        std::vector<std::string> dated;
        for (const Kind& one : snapshot.vocabulary().kinds())
            if (!rules.points_of(one.name).empty()) dated.push_back(one.name);
        throw UsageFault(fmt::format("things of kind \"{}\" have no time points in this vocabulary", kind),
                         dated.empty() ? "add time rules to the vocabulary (`saggar vocabulary`)"
                                       : fmt::format("ask about one of the kinds {}, or add time rules to the vocabulary (`saggar vocabulary`)",
                                                     fmt::join(dated, ", ")));
    }
    return Dater(snapshot, weigher, rules, question).date();
}

DatingAnswer date_thing(const Snapshot& snapshot, Weigher& weigher, const DatingQuestion& question) {
    return date_thing(snapshot, weigher, TimeRules::of(snapshot.vocabulary()), question);
}

}  // namespace saggar
