#include "queries/dispute_times.h"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

#include "kg/time/bounds.h"
#include "kg/time/edtf_read.h"
#include "kg/weigh/profile.h"
#include "queries/date_constraints.h"
#include "queries/date_walk.h"

namespace saggar {
namespace {

// When a claim says that a point of a thing was.
struct Dated {
    ClaimRef claim;
    std::string point;
    time::Day earliest;
    time::Day latest;
};

class ClashSearch {
public:
    ClashSearch(const Snapshot& snapshot, const Profile& profile, const TimeRules& rules)
        : snapshot_(snapshot), rules_(rules), walker_(snapshot, true) {
        conventions_.about = profile.about_years;
        for (const TimePointRule& rule : rules.points)
            if (const RelationId id = snapshot.relation_id(rule.relation)) dating_.insert(id);
    }

    TimeClashes everywhere() {
        std::set<EntityId> things;
        snapshot_.each_claim([&](const ClaimWithEvidence& claim) {
            if (dating_.count(claim.claim.ref.relation) && things.size() <= most_dated) things.insert(claim.claim.ref.subject);
        });
        if (things.size() > most_dated) {
            found_.complete = false;
            return std::move(found_);
        }
        for (const EntityId thing : things) look_at(thing);
        return std::move(found_);
    }

    TimeClashes about(EntityId thing) {
        std::set<EntityId> things = {thing};
        for (const TimeOrderRule& order : rules_.orders)
            for (const DateWalk& walk : walker_.walk(thing, DateWalker::reversed(forwards(order)))) things.insert(walk.to);
        for (const EntityId one : things) look_at(one);
        std::erase_if(found_.found, [&](const TimeClash& clash) { return !names(clash, thing); });
        return std::move(found_);
    }

private:
    static bool leads_forwards(const TimePath& path) {
        return path.empty() || std::any_of(path.begin(), path.end(), [](const TimePathStep& step) { return !step.backwards; });
    }
    // The order's path in the direction in which few things are met: from a piece to its shape.
    static TimePath forwards(const TimeOrderRule& order) {
        return leads_forwards(order.via) ? order.via : DateWalker::reversed(order.via);
    }

    void look_at(EntityId thing) {
        const std::vector<Dated>& own = dates_of(thing);
        if (own.empty()) return;
        for (const TimeOrderRule& order : rules_.orders) {
            const bool from_later = leads_forwards(order.via);
            const TimePointName& here = from_later ? order.later : order.earlier;
            const TimePointName& there = from_later ? order.earlier : order.later;
            if (!here.is_of(snapshot_.kind_of(thing)) || !has_point(own, here.point)) continue;
            for (const DateWalk& walk : walks_of(thing, forwards(order))) {
                if (!there.is_of(snapshot_.kind_of(walk.to))) continue;
                for (const Dated& mine : own) {
                    if (mine.point != here.point) continue;
                    for (const Dated& other : dates_of(walk.to)) {
                        if (other.point != there.point || other.claim == mine.claim) continue;
                        if (from_later ? breaks(order, other, mine) : breaks(order, mine, other)) add(order, mine, walk, other);
                    }
                }
            }
        }
    }

    // The path from every name of the thing to every name of its ends.
    std::vector<DateWalk> walks_of(EntityId thing, const TimePath& path) {
        std::vector<DateWalk> all;
        for (const DateWalk& start : walker_.under_all_names({thing, {}})) {
            if (path.empty() && start.to != thing) continue;
            for (DateWalk& walk : walker_.walk(start.to, path)) {
                walk.claims.insert(walk.claims.begin(), start.claims.begin(), start.claims.end());
                for (DateWalk& end : walker_.under_all_names(walk)) all.push_back(std::move(end));
            }
        }
        return all;
    }

    static bool has_point(const std::vector<Dated>& dates, const std::string& point) {
        return std::any_of(dates.begin(), dates.end(), [&](const Dated& one) { return one.point == point; });
    }

    static bool breaks(const TimeOrderRule& order, const Dated& earlier, const Dated& later) {
        if (earlier.earliest == time::before_all || later.latest == time::after_all) return false;
        return earlier.earliest.count > later.latest.count + days_of_slack(order.slack_months);
    }

    void add(const TimeOrderRule& order, const Dated& mine, const DateWalk& walk, const Dated& other) {
        TimeClash clash{mine.claim, walk.claims, order.label};
        clash.others.push_back(other.claim);
        found_.found.push_back(std::move(clash));
    }

    const std::vector<Dated>& dates_of(EntityId thing) {
        const auto known = dates_.find(thing);
        if (known != dates_.end()) return known->second;
        std::vector<Dated> dates;
        const std::string_view kind = snapshot_.kind_of(thing);
        for (const ClaimWithEvidence& claim : walker_.claims_of(thing)) {
            if (!dating_.count(claim.claim.ref.relation) || claim.claim.object_type != Value::Type::date) continue;
            for (const TimePointRule& rule : rules_.points) {
                const bool fits = std::find(rule.kinds.begin(), rule.kinds.end(), kind) != rule.kinds.end();
                if (fits && rule.relation == snapshot_.relation_name(claim.claim.ref.relation)) add_date(claim, rule, dates);
            }
        }
        return dates_[thing] = std::move(dates);
    }

    void add_date(const ClaimWithEvidence& claim, const TimePointRule& rule, std::vector<Dated>& dates) const {
        if (!claim.claim.scope.empty()) return;  // dates a part only (a market, a line), not the whole
        const auto read = time::read_edtf(claim.claim.object_text);
        if (!read) return;
        time::Conventions conventions = conventions_;
        conventions.about = about_years_of(snapshot_, claim.evidence, conventions.about);
        const time::Bounds bounds = time::bounds_of(*read, conventions);
        // An end that is open or unknown says nothing of itself.
        if (rule.part == DatePart::start && bounds.earliest_start.kind != time::Bound::Kind::day) return;
        if (rule.part == DatePart::end && bounds.latest_end.kind != time::Bound::Kind::day) return;
        const time::Bound& first = rule.part == DatePart::end ? bounds.earliest_end : bounds.earliest_start;
        const time::Bound& last = rule.part == DatePart::start ? bounds.latest_start : bounds.latest_end;
        dates.push_back({claim.claim.ref, rule.point, first.day, last.day});
    }

    bool names(const TimeClash& clash, EntityId thing) const {
        const auto about = [&](ClaimRef ref) {
            if (ref.subject == thing) return true;
            const auto claim = snapshot_.claim(ref);
            if (!claim) return false;
            return claim->claim.object == thing || std::any_of(claim->evidence.begin(), claim->evidence.end(),
                                                               [&](const EvidenceRow& row) { return row.source == thing; });
        };
        return about(clash.dated) || std::any_of(clash.others.begin(), clash.others.end(), about);
    }

    const Snapshot& snapshot_;
    const TimeRules& rules_;
    time::Conventions conventions_;
    DateWalker walker_;
    std::set<RelationId> dating_;
    std::unordered_map<EntityId, std::vector<Dated>> dates_;
    TimeClashes found_;
};

}  // namespace

TimeClashes find_time_clashes(const Snapshot& snapshot, const Profile& profile, const TimeRules& rules,
                              std::optional<EntityId> thing) {
    ClashSearch search(snapshot, profile, rules);
    return thing ? search.about(*thing) : search.everywhere();
}

}  // namespace saggar
