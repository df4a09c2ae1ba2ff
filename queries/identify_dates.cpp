#include "queries/identify_dates.h"

#include <algorithm>

#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"

namespace saggar {

namespace {

constexpr const char* made = "made";
constexpr const char* piece = "piece";

bool is_making(const TimePointName& point) { return point.kind == piece && point.point == made; }

}  // namespace

const MadeWindows::Point& MadeWindows::point(EntityId thing, const std::string& name) {
    const auto [at, is_new] = points_.try_emplace({thing, name});
    Point& found = at->second;
    if (!is_new) return found;
    const std::string_view kind = snapshot_.kind_of(thing);
    bool any = false;
    for (const TimePointRule& rule : rules_.points) {
        if (rule.point != name || std::find(rule.kinds.begin(), rule.kinds.end(), kind) == rule.kinds.end()) continue;
        const RelationId relation = snapshot_.relation_id(rule.relation);
        for (const DateWalk& other : walker_.under_all_names({thing, {}})) {
            for (const ClaimWithEvidence& claim : walker_.claims_of(other.to)) {
                if (claim.claim.ref.relation != relation || claim.claim.object_type != Value::Type::date) continue;
                const auto days = days_of_text(claim.claim.object_text, weigher_.profile().about_years);
                if (!days || weigher_.support_alone(claim.claim.ref) < least_support_) continue;
                if (!any || days->earliest < found.earliest) {
                    found.earliest = days->earliest;
                    found.earliest_claims = {claim.claim.ref};
                }
                if (!any || days->latest > found.latest) {
                    found.latest = days->latest;
                    found.latest_claims = {claim.claim.ref};
                }
                any = true;
            }
        }
    }
    return found;
}

const std::vector<DateWalk>& MadeWindows::ends(EntityId thing, const TimePath& path) {
    std::string name;
    for (const TimePathStep& step : path) name += (step.backwards ? "/^" : "/") + step.relation;
    const auto [at, is_new] = ends_.try_emplace({thing, name});
    std::vector<DateWalk>& found = at->second;
    if (!is_new) return found;
    const auto is_supported = [this](ClaimRef ref) {
        const auto claim = snapshot_.claim(ref);
        return claim && cells_.masses_of(*claim).support().value_or(0) >= weigher_.profile().supported;
    };
    for (const DateWalk& start : walker_.under_all_names({thing, {}})) {
        for (DateWalk& walk : path.empty() ? std::vector<DateWalk>{start} : walker_.walk(start.to, path)) {
            if (std::all_of(walk.claims.begin(), walk.claims.end(), is_supported)) found.push_back(std::move(walk));
        }
    }
    return found;
}

MadeWindow MadeWindows::of(EntityId thing, const std::string& relation) {
    MadeWindow window;
    for (const TimeOrderRule& order : rules_.orders) {
        const bool bounds_early = is_making(order.later);
        if (!bounds_early && !is_making(order.earlier)) continue;
        TimePath path = bounds_early ? order.via : DateWalker::reversed(order.via);  // from the piece
        if (path.empty() || path.front().backwards || path.front().relation != relation) continue;
        path.erase(path.begin());
        const TimePointName& there = bounds_early ? order.earlier : order.later;
        for (const DateWalk& walk : ends(thing, path)) {
            if (!there.is_of(snapshot_.kind_of(walk.to))) continue;
            const Point& bound = point(walk.to, there.point);
            const std::int64_t slack = days_of_slack(order.slack_months);
            const time::Day day = bounds_early ? time::plus_days(bound.earliest, -slack) : time::plus_days(bound.latest, slack);
            const bool tighter = bounds_early ? day > window.earliest : day < window.latest;
            if (!tighter) continue;
            std::vector<ClaimRef> claims = walk.claims;
            const auto& dated = bounds_early ? bound.earliest_claims : bound.latest_claims;
            claims.insert(claims.end(), dated.begin(), dated.end());
            (bounds_early ? window.earliest : window.latest) = day;
            (bounds_early ? window.earliest_rule : window.latest_rule) = order.label;
            (bounds_early ? window.earliest_claims : window.latest_claims) = std::move(claims);
        }
    }
    return window;
}

}  // namespace saggar
