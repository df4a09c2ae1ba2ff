#include "queries/date_chains.h"

#include <algorithm>

namespace saggar {

namespace {

constexpr std::size_t most_walks = 20'000;  // ends of paths looked at

using LimitsByPoint = std::vector<std::vector<std::uint32_t>>;

// Limits by the point that a chain leaves: for earliest bounds a limit is walked from `from` to `to`, else the other way.
LimitsByPoint limits_by_point(const DateConstraints& constraints, bool earliest) {
    LimitsByPoint limits(constraints.points.size());
    for (std::uint32_t i = 0; i < constraints.limits.size(); ++i) {
        const auto& limit = constraints.limits[i];
        limits[earliest ? limit.from : limit.to].push_back(i);
    }
    return limits;
}

void sort_out(std::vector<ClaimRef>& claims) {
    std::sort(claims.begin(), claims.end());
    claims.erase(std::unique(claims.begin(), claims.end()), claims.end());
}

// One path under way: the limits walked so far, as a stack of choices.
struct Choice {
    time::TimePoint point;
    std::size_t next = 0;  // which limit of the point to try next
};

class ChainWalk {
public:
    ChainWalk(const DateConstraints& constraints, bool earliest)
        : its_(constraints), earliest_(earliest), limits_(limits_by_point(constraints, earliest)) {}

    // False: there are more paths than may be looked at.
    bool walk(time::TimePoint start, std::vector<DateChain>& found) {
        std::vector<Choice> stack{{start, 0}};
        std::vector<std::uint32_t> path;
        std::vector<bool> on_path(its_.points.size(), false);
        on_path[start] = true;
        std::size_t walks = 0;
        while (!stack.empty()) {
            Choice& here = stack.back();
            if (here.next == limits_[here.point].size()) {
                on_path[here.point] = false;
                stack.pop_back();
                if (!path.empty()) path.pop_back();
                continue;
            }
            const std::uint32_t index = limits_[here.point][here.next++];
            const auto to = earliest_ ? its_.limits[index].to : its_.limits[index].from;
            if (on_path[to]) continue;
            if (to == time::TimeNetwork::origin) {
                if (++walks > most_walks) return false;
                path.push_back(index);
                found.push_back(chain_of(path));
                path.pop_back();
                continue;
            }
            path.push_back(index);
            on_path[to] = true;
            stack.push_back({to, 0});
        }
        return true;
    }

private:
    DateChain chain_of(const std::vector<std::uint32_t>& path) const {
        DateChain chain;
        for (const auto index : path) {
            const time::TimeLimit& limit = its_.limits[index];
            chain.bound += earliest_ ? -limit.at_most : limit.at_most;
            if (limit.label == time::always) continue;
            const auto& claims = its_.reasons[limit.label].claims;
            chain.claims.insert(chain.claims.end(), claims.begin(), claims.end());
        }
        sort_out(chain.claims);
        return chain;
    }

    const DateConstraints& its_;
    bool earliest_;
    LimitsByPoint limits_;
};

// The day next to `bound`, on the side it points to, that lies in a stint; the bound itself where it does, or where none follows.
std::int64_t moved_into_stint(const DatePeriod& period, std::int64_t bound, bool earliest) {
    std::int64_t best = earliest ? time::no_latest : time::no_earliest;
    for (const DateStint& stint : period.stints) {
        if (stint.first <= bound && bound <= stint.last) return bound;
        if (earliest && stint.first > bound) best = std::min(best, stint.first);
        if (!earliest && stint.last < bound) best = std::max(best, stint.last);
    }
    return best == time::no_latest || best == time::no_earliest ? bound : best;
}

// A period bounds by the hull of its stints, and carries a bound that falls between two stints on to the next one.
void add_periods(const DateConstraints& constraints, time::TimePoint point, bool earliest,
                 std::vector<DateChain>& found) {
    for (const DatePeriod& period : constraints.periods) {
        if (period.point != point) continue;
        const std::size_t plain = found.size();
        for (std::size_t i = 0; i < plain; ++i) {
            DateChain moved{moved_into_stint(period, found[i].bound, earliest), found[i].claims};
            if (moved.bound == found[i].bound) continue;
            const auto claims = period.claims();
            moved.claims.insert(moved.claims.end(), claims.begin(), claims.end());
            sort_out(moved.claims);
            found.push_back(std::move(moved));
        }
        std::int64_t hull = earliest ? time::no_latest : time::no_earliest;
        for (const DateStint& stint : period.stints) {
            hull = earliest ? std::min(hull, stint.first) : std::max(hull, stint.last);
        }
        if (hull != time::no_earliest && hull != time::no_latest) found.push_back({hull, period.claims()});
    }
}

}  // namespace

DateChains chains_of(const DateConstraints& constraints, time::TimePoint point, bool earliest, std::size_t most) {
    DateChains answer;
    std::vector<DateChain> found;
    answer.complete = ChainWalk(constraints, earliest).walk(point, found);
    add_periods(constraints, point, earliest, found);
    std::stable_sort(found.begin(), found.end(), [earliest](const DateChain& a, const DateChain& b) {
        if (a.bound != b.bound) return earliest ? a.bound > b.bound : a.bound < b.bound;
        return a.claims.size() < b.claims.size();
    });
    for (DateChain& chain : found) {
        const bool spared = std::any_of(answer.chains.begin(), answer.chains.end(), [&](const DateChain& kept) {
            return std::includes(chain.claims.begin(), chain.claims.end(), kept.claims.begin(), kept.claims.end());
        });
        if (spared) continue;
        if (answer.chains.size() == most) {
            answer.complete = false;
            break;
        }
        answer.chains.push_back(std::move(chain));
    }
    return answer;
}

}  // namespace saggar
