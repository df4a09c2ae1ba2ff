#include "queries/date_constraints.h"

#include <algorithm>
#include <deque>
#include <set>
#include <utility>

#include "kg/time/edtf_read.h"
#include "queries/date_walk.h"

namespace saggar {

namespace {

using time::TimePoint;

std::int64_t earliest_count(time::Day day) { return day == time::before_all ? time::no_earliest : day.count; }
std::int64_t latest_count(time::Day day) { return day == time::after_all ? time::no_latest : day.count; }

bool has_approximate(std::string_view edtf) { return edtf.find_first_of("~%") != std::string_view::npos; }

class Collector {
public:
    Collector(const Snapshot& snapshot, const TimeRules& rules, const DateReach& reach)
        : snapshot_(snapshot), rules_(rules), reach_(reach), walker_(snapshot, reach.with_private) {
        found_.points.push_back({});
    }

    DateConstraints collect(EntityId thing) {
        for (const std::string& point : rules_.points_of(snapshot_.kind_of(thing))) {
            const TimePoint node = point_of(thing, point);
            found_.asked.emplace(point, node);
            visit(node, true);
            visit(node, false);
            add_periods(node, {thing, {}});
            for (const Alias& name : walker_.other_names(thing)) add_periods(node, {name.other, name.identities});
        }
        follow(true);
        follow(false);
        join_points_met();
        drop_what_rules_repeat();
        return std::move(found_);
    }

private:
    std::string_view kind_of(TimePoint node) const { return snapshot_.kind_of(found_.points[node].thing); }

    // The number of a point; a new one gets the limits that its own claims give.
    TimePoint point_of(EntityId thing, const std::string& point) {
        const auto [place, is_new] =
            numbers_.emplace(std::pair(thing, point), static_cast<TimePoint>(found_.points.size()));
        if (!is_new) return place->second;
        found_.points.push_back({thing, point});
        add_dates(place->second);
        return place->second;
    }

    // Each point is followed once in each direction.
    void visit(TimePoint node, bool towards_earlier) {
        if (visited_[towards_earlier].insert(node).second) waiting_[towards_earlier].push_back(node);
    }

    void follow(bool towards_earlier) {
        auto& waiting = waiting_[towards_earlier];
        while (!waiting.empty()) {
            const TimePoint node = waiting.front();
            waiting.pop_front();
            follow_names(node, towards_earlier);
            for (const TimeOrderRule& order : rules_.orders) {
                const TimePointName& here = towards_earlier ? order.later : order.earlier;
                if (here.point == found_.points[node].point && here.is_of(kind_of(node)))
                    follow_order(node, order, towards_earlier);
            }
        }
    }

    // The same point of the thing's other names: neither comes before the other.
    void follow_names(TimePoint node, bool towards_earlier) {
        const DatePoint here = found_.points[node];
        for (const Alias& name : walker_.other_names(here.thing)) {
            if (found_.points.size() >= reach_.most_points) {
                found_.complete = false;
                return;
            }
            if (!has_point(name.other, here.point)) continue;
            const TimePoint other = point_of(name.other, here.point);
            add_order(std::min(node, other), std::max(node, other), same_thing_rule(), name.identities);
            add_order(std::max(node, other), std::min(node, other), same_thing_rule(), name.identities);
            visit(other, towards_earlier);
        }
    }

    void follow_order(TimePoint node, const TimeOrderRule& order, bool towards_earlier) {
        const TimePointName& there = towards_earlier ? order.earlier : order.later;
        const TimePath path = towards_earlier ? order.via : DateWalker::reversed(order.via);
        for (const DateWalk& walk : walker_.walk(found_.points[node].thing, path)) {
            if (!there.is_of(snapshot_.kind_of(walk.to))) continue;
            if (order.via.empty() && !has_point(walk.to, there.point)) continue;
            if (found_.points.size() >= reach_.most_points) {
                found_.complete = false;
                return;
            }
            const TimePoint other = point_of(walk.to, there.point);
            const TimePoint earlier = towards_earlier ? other : node;
            const TimePoint later = towards_earlier ? node : other;
            add_order(earlier, later, order, walk.claims);
            visit(other, towards_earlier);
        }
    }

    // Orders between points that were met on different ways. They bound the thing no further, but without them a
    // contradiction might name more claims than it needs. Walked from the side where the path leads forwards.
    void join_points_met() {
        for (const TimeOrderRule& order : rules_.orders) {
            const bool from_later = std::any_of(order.via.begin(), order.via.end(),
                                                [](const TimePathStep& one) { return !one.backwards; }) ||
                                    order.via.empty();
            const TimePath path = from_later ? order.via : DateWalker::reversed(order.via);
            const TimePointName& here = from_later ? order.later : order.earlier;
            const TimePointName& there = from_later ? order.earlier : order.later;
            for (TimePoint node = 1; node < found_.points.size(); ++node) {
                if (here.point != found_.points[node].point || !here.is_of(kind_of(node))) continue;
                for (const DateWalk& walk : walker_.walk(found_.points[node].thing, path)) {
                    const auto other = numbers_.find({walk.to, there.point});
                    if (other == numbers_.end() || !there.is_of(snapshot_.kind_of(walk.to))) continue;
                    add_order(from_later ? other->second : node, from_later ? node : other->second, order, walk.claims);
                }
            }
        }
    }

    using Limit = std::tuple<TimePoint, TimePoint, std::int64_t, std::vector<ClaimRef>>;

    static Limit limit_with(const time::TimeLimit& limit, std::vector<ClaimRef> claims) {
        std::sort(claims.begin(), claims.end());
        claims.erase(std::unique(claims.begin(), claims.end()), claims.end());
        return {limit.from, limit.to, limit.at_most, std::move(claims)};
    }

    // A rule of the vocabulary may draw in one claim what a path walks in two. Where the longer walk is there with its
    // citations, the shorter one would only say the same again.
    void drop_what_rules_repeat() {
        if (!snapshot_.any_arguments()) return;
        std::set<Limit> orders;
        const auto reason_of = [&](const time::TimeLimit& limit) -> const DateReason* {
            const bool ordered = limit.label != time::always && found_.reasons[limit.label].order;
            return ordered ? &found_.reasons[limit.label] : nullptr;
        };
        for (const time::TimeLimit& limit : found_.limits) {
            if (const DateReason* reason = reason_of(limit)) orders.insert(limit_with(limit, reason->claims));
        }
        const auto repeats = [&](const time::TimeLimit& limit) {
            const DateReason* reason = reason_of(limit);
            return reason && std::any_of(reason->claims.begin(), reason->claims.end(), [&](ClaimRef drawn) {
                const auto ways = walker_.drawn_by_rules(drawn);
                return !ways.empty() && std::all_of(ways.begin(), ways.end(), [&](const std::vector<ClaimRef>& premises) {
                    std::vector<ClaimRef> claims = premises;
                    for (const ClaimRef claim : reason->claims)
                        if (claim != drawn) claims.push_back(claim);
                    return orders.count(limit_with(limit, std::move(claims))) != 0;
                });
            });
        };
        found_.limits.erase(std::remove_if(found_.limits.begin(), found_.limits.end(), repeats), found_.limits.end());
    }

    bool has_point(EntityId thing, const std::string& point) const {
        const auto points = rules_.points_of(snapshot_.kind_of(thing));
        return std::find(points.begin(), points.end(), point) != points.end();
    }

    // earlier <= later + slack. Two points of one thing are met in both directions: the limit is added once.
    void add_order(TimePoint earlier, TimePoint later, const TimeOrderRule& order, std::vector<ClaimRef> claims) {
        if (!orders_.insert({earlier, later, &order, claims}).second) return;
        const auto label = claims.empty() ? time::always : add_reason({std::move(claims), &order});
        found_.limits.push_back({later, earlier, days_of_slack(order.slack_months), label});
    }

    time::TimeLabel add_reason(DateReason reason) {
        found_.reasons.push_back(std::move(reason));
        return static_cast<time::TimeLabel>(found_.reasons.size() - 1);
    }

    std::optional<time::Bounds> bounds_of_date(const std::string& edtf,
                                               const std::vector<EvidenceRow>& evidence) const {
        const auto read = time::read_edtf(edtf);
        if (!read) return std::nullopt;
        time::Conventions conventions = reach_.conventions;
        if (has_approximate(edtf)) conventions.about = about_years_of(snapshot_, evidence, conventions.about);
        return time::bounds_of(*read, conventions);
    }

    void add_dates(TimePoint node) {
        for (const TimePointRule& rule : rules_.points) {
            if (rule.point != found_.points[node].point || !applies(rule, node)) continue;
            const RelationId relation = snapshot_.relation_id(rule.relation);
            if (!relation) continue;
            for (const ClaimWithEvidence& claim : walker_.claims_of(found_.points[node].thing)) {
                if (claim.claim.ref.relation == relation) add_date(node, rule.part, claim);
            }
        }
    }

    bool applies(const TimePointRule& rule, TimePoint node) const {
        return std::find(rule.kinds.begin(), rule.kinds.end(), kind_of(node)) != rule.kinds.end();
    }

    // A date that holds for a part only (a market, a line) does not date the whole.
    void add_date(TimePoint node, DatePart part, const ClaimWithEvidence& claim) {
        if (claim.claim.object_type != Value::Type::date || !claim.claim.scope.empty()) return;
        const auto bounds = bounds_of_date(claim.claim.object_text, claim.evidence);
        if (!bounds) return;
        std::int64_t earliest = earliest_count(bounds->earliest_start.day);
        std::int64_t latest = latest_count(bounds->latest_end.day);
        if (part == DatePart::start) latest = latest_count(bounds->latest_start.day);
        if (part == DatePart::end) earliest = earliest_count(bounds->earliest_end.day);
        // An end that is open or unknown says nothing of itself.
        if (part == DatePart::start && bounds->earliest_start.kind != time::Bound::Kind::day) return;
        if (part == DatePart::end && bounds->latest_end.kind != time::Bound::Kind::day) return;
        const auto label = add_reason({{claim.claim.ref}, nullptr});
        if (latest != time::no_latest) found_.limits.push_back({time::TimeNetwork::origin, node, latest, label});
        if (earliest != time::no_earliest) found_.limits.push_back({node, time::TimeNetwork::origin, -earliest, label});
        ++found_.dated_claims;
    }

    // Periods of the point, walked from the thing itself or from another name of it (with the identities between).
    void add_periods(TimePoint node, const DateWalk& from) {
        for (const TimePeriodRule& rule : rules_.periods) {
            if (rule.point.point != found_.points[node].point || !rule.point.is_of(snapshot_.kind_of(from.to))) continue;
            for (DateWalk& walk : walker_.walk(from.to, rule.via)) {
                walk.claims.insert(walk.claims.begin(), from.claims.begin(), from.claims.end());
                for (const DateWalk& end : walker_.under_all_names(walk)) add_period(node, rule, from.to, end);
            }
        }
    }

    void add_period(TimePoint node, const TimePeriodRule& rule, EntityId thing, const DateWalk& walk) {
        std::vector<DateWalk> objects;
        if (!rule.object_via.empty()) {
            for (const DateWalk& end : walker_.walk(thing, rule.object_via)) {
                for (DateWalk& name : walker_.under_all_names(end)) objects.push_back(std::move(name));
            }
        }
        DatePeriod period{node, walk.claims, {}, &rule};
        const RelationId relation = snapshot_.relation_id(rule.relation);
        for (const ClaimWithEvidence& claim : walker_.claims_of(walk.to)) {
            if (!relation || claim.claim.ref.relation != relation) continue;
            if (!rule.object_via.empty()) {
                const auto object = std::find_if(objects.begin(), objects.end(),
                                                 [&](const DateWalk& end) { return end.to == claim.claim.object; });
                if (object == objects.end()) continue;
                if (period.stints.empty())
                    period.via.insert(period.via.end(), object->claims.begin(), object->claims.end());
            }
            const auto bounds = bounds_of_date(claim.claim.when, claim.evidence);
            if (!bounds) continue;  // "at some time" adds nothing to the times on record
            const std::int64_t slack = days_of_slack(rule.slack_months);
            DateStint stint{claim.claim.ref, earliest_count(bounds->earliest_start.day),
                            latest_count(bounds->latest_end.day)};
            if (stint.first != time::no_earliest) stint.first -= slack;
            if (stint.last != time::no_latest) stint.last += slack;
            period.stints.push_back(stint);
        }
        if (!period.stints.empty()) found_.periods.push_back(std::move(period));
    }

    using OrderKey = std::tuple<TimePoint, TimePoint, const TimeOrderRule*, std::vector<ClaimRef>>;

    const Snapshot& snapshot_;
    const TimeRules& rules_;
    const DateReach& reach_;
    DateWalker walker_;
    DateConstraints found_;
    std::map<std::pair<EntityId, std::string>, TimePoint> numbers_;
    std::set<TimePoint> visited_[2];
    std::deque<TimePoint> waiting_[2];
    std::set<OrderKey> orders_;
};

}  // namespace

std::vector<ClaimRef> DatePeriod::claims() const {
    std::vector<ClaimRef> all = via;
    for (const DateStint& stint : stints) all.push_back(stint.claim);
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

DateConstraints date_constraints(const Snapshot& snapshot, const TimeRules& rules, EntityId thing,
                                 const DateReach& reach) {
    return Collector(snapshot, rules, reach).collect(thing);
}

int about_years_of(const Snapshot& snapshot, const std::vector<EvidenceRow>& evidence, int usual) {
    std::optional<int> widest;
    for (const EvidenceRow& row : evidence) {
        if (row.stance != Stance::in_favour) continue;
        const auto source = snapshot.source(row.source);
        const int own = source ? source->tolerance_years.value_or(usual) : usual;
        widest = std::max(widest.value_or(own), own);
    }
    return widest.value_or(usual);
}

}  // namespace saggar
