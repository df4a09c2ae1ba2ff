// A simple temporal problem: points in time, and limits on how far one may lie after another.
//
// R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial Intelligence 49, 1991. A limit "b - a <=
// w" is an edge from a to b of weight w. The problem can be solved if and only if no cycle of edges has a negative sum;
// the shortest way from the origin to a point is its latest time, and minus the shortest way back its earliest. Every
// limit carries a label of the caller's (a claim, say), so that an answer can name what it rests on.
//
// Cost: solve_times is one Bellman-Ford pass over all limits, in rounds until nothing changes (few, when limits are
// added from the origin outwards), and two runs of Dijkstra. minimal_network is Johnson's algorithm, O(V (E + V log
// V)). Both by Boost.Graph. Values: no sharing; one network may be read from several threads.
#pragma once

#include <cstdint>
#include <vector>

namespace saggar::time {

using TimePoint = std::uint32_t;
using TimeLabel = std::uint32_t;

// A limit that is always taken to hold (a run ends no earlier than it starts) and never named in an answer.
inline constexpr TimeLabel always = UINT32_MAX;
// Times are whole units (days, when the origin is day 0) from the origin. What would limit a point only beyond this
// size limits nothing, and no two points are held further apart than this.
inline constexpr std::int64_t longest_time = 1'000'000'000'000;
inline constexpr std::int64_t no_earliest = INT64_MIN;
inline constexpr std::int64_t no_latest = INT64_MAX;

struct TimeLimit {
    TimePoint from = 0;
    TimePoint to = 0;
    std::int64_t at_most = 0;  // to - from <= at_most
    TimeLabel label = always;
    bool operator==(const TimeLimit&) const = default;
};

class TimeNetwork {
public:
    static constexpr TimePoint origin = 0;

    TimePoint add_point() { return points_++; }
    // to - from <= at_most. Points must have been added. no_latest changes nothing.
    void limit(TimePoint from, TimePoint to, std::int64_t at_most, TimeLabel label);
    // earliest <= point - origin <= latest; no_earliest and no_latest leave a side free.
    void limit_to(TimePoint point, std::int64_t earliest, std::int64_t latest, TimeLabel label);

    std::uint32_t points() const { return points_; }
    const std::vector<TimeLimit>& limits() const { return limits_; }

private:
    std::uint32_t points_ = 1;
    std::vector<TimeLimit> limits_;
};

struct TimeRange {
    std::int64_t earliest = no_earliest;
    std::int64_t latest = no_latest;
    bool operator==(const TimeRange&) const = default;
};

// What follows for every point from all limits together.
struct TimeSolution {
    // Labels of limits that cannot all hold, sorted; without any one of them the others can. Empty: no contradiction
    // among labelled limits.
    std::vector<TimeLabel> contradiction;
    bool consistent = true;         // false: `ranges` is empty
    std::vector<TimeRange> ranges;  // by point

    // The limits (indices into TimeNetwork::limits) that make up the earliest or latest time of a point, from the
    // origin to the point. Empty where that side is free. Of several such chains one is given, always the same.
    std::vector<std::uint32_t> chain_of_earliest(const TimeNetwork& network, TimePoint point) const;
    std::vector<std::uint32_t> chain_of_latest(const TimeNetwork& network, TimePoint point) const;

    std::vector<std::uint32_t> last_limit_of_earliest;  // by point: the last limit of the chain, or none_limit
    std::vector<std::uint32_t> last_limit_of_latest;
};

TimeSolution solve_times(const TimeNetwork& network);

// limits[a * points + b]: how far b may at most lie after a, given everything; no_latest: any distance. Empty when the
// network contradicts itself.
std::vector<std::int64_t> minimal_network(const TimeNetwork& network);

}  // namespace saggar::time
