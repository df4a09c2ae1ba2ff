// The temporal network: a published example, a twin that tries every assignment, and contradictions that cannot be
// smaller.
#include "kg/time/network.h"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <random>
#include <set>

using namespace saggar::time;

namespace {

// John and Fred: John went by car (30-40 minutes) and Fred in a carpool (40-50); John left home between 7:10 and 7:20,
// Fred reached work between 8:00 and 8:10; John reached work 10-20 minutes after Fred left home. Minutes after 7:00.
// Source: Dechter, Meiri, Pearl 1991, example 1.1 (story), figure 2 and tables 1 and 2 (figures; from memory).
TimeNetwork john_and_fred() {
    TimeNetwork network;
    for (int i = 1; i <= 4; ++i) network.add_point();  // 1 John leaves, 2 John arrives, 3 Fred leaves, 4 Fred arrives
    const auto between = [&](TimePoint from, TimePoint to, int low, int high, TimeLabel label) {
        network.limit(from, to, high, label);
        network.limit(to, from, -low, label);
    };
    between(0, 1, 10, 20, 1);
    between(1, 2, 30, 40, 2);
    between(3, 2, 10, 20, 3);
    between(3, 4, 40, 50, 4);
    between(0, 4, 60, 70, 5);
    return network;
}

}  // namespace

TEST_CASE("John and Fred have the published minimal network") {
    const std::vector<std::int64_t> expected{
        0,   20,  50,  30,  70,  //
        -10, 0,   40,  20,  60,  //
        -40, -30, 0,   -10, 30,  //
        -20, -10, 20,  0,   50,  //
        -60, -50, -20, -40, 0,
    };
    CHECK(minimal_network(john_and_fred()) == expected);
}

TEST_CASE("John and Fred arrive and leave when the published tables say, and each side names its limits") {
    const TimeNetwork network = john_and_fred();
    const TimeSolution solution = solve_times(network);
    REQUIRE(solution.consistent);
    CHECK(solution.ranges[1] == TimeRange{10, 20});
    CHECK(solution.ranges[2] == TimeRange{40, 50});
    CHECK(solution.ranges[3] == TimeRange{20, 30});
    CHECK(solution.ranges[4] == TimeRange{60, 70});
    const auto labels = [&](const std::vector<std::uint32_t>& chain) {
        std::vector<TimeLabel> found;
        for (const auto limit : chain) found.push_back(network.limits()[limit].label);
        return found;
    };
    // Fred leaves by 7:30: he arrives by 8:10, at least 40 minutes later.
    CHECK(labels(solution.chain_of_latest(network, 3)) == std::vector<TimeLabel>{5, 4});
    // John arrives by 7:50 for that reason and the 20 minutes.
    CHECK(labels(solution.chain_of_latest(network, 2)) == std::vector<TimeLabel>{5, 4, 3});
    CHECK(labels(solution.chain_of_earliest(network, 2)) == std::vector<TimeLabel>{1, 2});
}

TEST_CASE("a contradiction names what cannot all hold, and nothing else") {
    TimeNetwork network = john_and_fred();
    network.limit_to(2, 55, no_latest, 6);  // somebody saw John arrive after 7:55
    network.limit_to(1, 0, 1000, 7);        // beside the point
    const TimeSolution solution = solve_times(network);
    CHECK_FALSE(solution.consistent);
    CHECK(solution.ranges.empty());
    CHECK(minimal_network(network).empty());
    CHECK(solution.contradiction == std::vector<TimeLabel>{3, 4, 5, 6});
}

TEST_CASE("points without limits are free, and limits that always hold are not named") {
    TimeNetwork network;
    const TimePoint start = network.add_point();
    const TimePoint end = network.add_point();
    network.add_point();
    network.limit(end, start, 0, always);
    network.limit_to(start, 100, no_latest, 1);
    auto solution = solve_times(network);
    CHECK(solution.ranges[start] == TimeRange{100, no_latest});
    CHECK(solution.ranges[end] == TimeRange{100, no_latest});
    CHECK(solution.ranges[3] == TimeRange{});
    CHECK(solution.chain_of_latest(network, end).empty());
    CHECK(solution.chain_of_earliest(network, end).size() == 2);
    network.limit_to(end, no_earliest, 99, 2);
    solution = solve_times(network);
    CHECK(solution.contradiction == std::vector<TimeLabel>{1, 2});
}

TEST_CASE("limits beyond all history are cut down and do not overflow") {
    TimeNetwork network;
    const TimePoint point = network.add_point();
    network.limit_to(point, INT64_MIN + 1, INT64_MAX - 1, 1);
    CHECK(solve_times(network).ranges[point] == TimeRange{});
    network.limit(TimeNetwork::origin, point, INT64_MIN, 2);
    CHECK(solve_times(network).ranges[point] == TimeRange{no_earliest, -longest_time});
    const TimePoint other = network.add_point();
    for (int i = 0; i < 1000; ++i) network.limit(point, other, -longest_time, 3);
    CHECK(solve_times(network).ranges[other] == TimeRange{no_earliest, -2 * longest_time});
}

namespace {

constexpr int highest = 6;  // the twin tries every value from 0 to here

TimeNetwork random_network(std::mt19937& random, int points, int limits) {
    const auto draw = [&](int low, int high) {
        return static_cast<int>(random() % static_cast<unsigned>(high - low + 1)) + low;
    };
    TimeNetwork network;
    for (int i = 0; i < points; ++i) {
        const TimePoint point = network.add_point();
        network.limit_to(point, 0, highest, always);
    }
    for (int i = 0; i < limits; ++i) {
        const int from = draw(0, points);
        const int to = draw(0, points);
        if (from == to) continue;
        const int at_most = draw(-4, 5);
        network.limit(static_cast<TimePoint>(from), static_cast<TimePoint>(to), at_most,
                      static_cast<TimeLabel>(draw(1, limits)));
    }
    return network;
}

// Tries every assignment of whole numbers; keeps only the limits with a kept label.
struct Twin {
    bool consistent = false;
    std::vector<TimeRange> ranges;
    Twin(const TimeNetwork& network, const std::set<TimeLabel>* kept = nullptr) {
        const auto points = network.points();
        std::vector<int> at(points, 0);
        ranges.assign(points, TimeRange{INT64_MAX, INT64_MIN});
        for (;;) {
            const bool holds =
                std::all_of(network.limits().begin(), network.limits().end(), [&](const TimeLimit& limit) {
                    if (kept && limit.label != always && kept->count(limit.label) == 0) return true;
                    return at[limit.to] - at[limit.from] <= limit.at_most;
                });
            if (holds) {
                consistent = true;
                for (std::size_t i = 0; i < points; ++i) {
                    ranges[i].earliest = std::min<std::int64_t>(ranges[i].earliest, at[i]);
                    ranges[i].latest = std::max<std::int64_t>(ranges[i].latest, at[i]);
                }
            }
            std::size_t next = 1;
            while (next < points && at[next] == highest) at[next++] = 0;
            if (next == points) return;
            ++at[next];
        }
    }
};

}  // namespace

TEST_CASE("earliest and latest are those of a twin that tries everything") {
    int consistent = 0;
    int contradictory = 0;
    for (unsigned seed = 1; seed <= 400; ++seed) {
        std::mt19937 random(seed);
        const TimeNetwork network = random_network(random, 4, 6);
        const TimeSolution solution = solve_times(network);
        const Twin twin(network);
        INFO("seed " << seed);
        REQUIRE(solution.consistent == twin.consistent);
        ++(twin.consistent ? consistent : contradictory);
        if (twin.consistent) REQUIRE(solution.ranges == twin.ranges);
    }
    CHECK(consistent > 50);
    CHECK(contradictory > 50);
}

TEST_CASE("every contradiction is minimal: as a whole it cannot hold, without any one of its labels it can") {
    int found = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) {
        std::mt19937 random(seed);
        const TimeNetwork network = random_network(random, 4, 10);
        const TimeSolution solution = solve_times(network);
        if (solution.consistent) continue;
        ++found;
        INFO("seed " << seed);
        const std::set<TimeLabel> whole(solution.contradiction.begin(), solution.contradiction.end());
        REQUIRE_FALSE(whole.empty());
        REQUIRE_FALSE(Twin(network, &whole).consistent);
        for (const TimeLabel label : whole) {
            std::set<TimeLabel> fewer = whole;
            fewer.erase(label);
            REQUIRE(Twin(network, &fewer).consistent);
        }
    }
    CHECK(found > 100);
}

TEST_CASE("adding a limit never widens a range") {
    CHECK(rc::check("monotone", [] {
        std::mt19937 random(*rc::gen::arbitrary<unsigned>());
        TimeNetwork network = random_network(random, 8, 10);
        TimeSolution before = solve_times(network);
        for (int i = 0; i < 5 && before.consistent; ++i) {
            const auto from = static_cast<TimePoint>(random() % 9);
            const auto to = static_cast<TimePoint>(random() % 9);
            if (from != to) network.limit(from, to, static_cast<int>(random() % 10) - 4, 99);
            const TimeSolution after = solve_times(network);
            if (!after.consistent) {
                RC_ASSERT(!after.contradiction.empty());
                return;
            }
            for (std::size_t point = 0; point < before.ranges.size(); ++point) {
                RC_ASSERT(after.ranges[point].earliest >= before.ranges[point].earliest);
                RC_ASSERT(after.ranges[point].latest <= before.ranges[point].latest);
            }
            before = after;
        }
    }));
}

TEST_CASE("the chain of a bound adds up to the bound, from the origin to the point") {
    CHECK(rc::check("chains", [] {
        std::mt19937 random(*rc::gen::arbitrary<unsigned>());
        const TimeNetwork network = random_network(random, 10, 12);
        const TimeSolution solution = solve_times(network);
        if (!solution.consistent) return;
        for (TimePoint point = 1; point < network.points(); ++point) {
            std::int64_t sum = 0;
            TimePoint at = TimeNetwork::origin;
            for (const auto index : solution.chain_of_latest(network, point)) {
                RC_ASSERT(network.limits()[index].from == at);
                at = network.limits()[index].to;
                sum += network.limits()[index].at_most;
            }
            RC_ASSERT(at == point && sum == solution.ranges[point].latest);
            sum = 0;
            at = TimeNetwork::origin;
            for (const auto index : solution.chain_of_earliest(network, point)) {
                RC_ASSERT(network.limits()[index].to == at);
                at = network.limits()[index].from;
                sum -= network.limits()[index].at_most;
            }
            RC_ASSERT(at == point && sum == solution.ranges[point].earliest);
        }
    }));
}

TEST_CASE("the minimal network agrees with the ranges of single points") {
    CHECK(rc::check("all pairs", [] {
        std::mt19937 random(*rc::gen::arbitrary<unsigned>());
        const TimeNetwork network = random_network(random, 10, 12);
        const TimeSolution solution = solve_times(network);
        const auto limits = minimal_network(network);
        RC_ASSERT(limits.empty() == !solution.consistent);
        for (TimePoint point = 0; point < network.points() && solution.consistent; ++point) {
            RC_ASSERT(limits[point] == solution.ranges[point].latest);
            RC_ASSERT(limits[std::size_t{point} * network.points()] == -solution.ranges[point].earliest);
        }
    }));
}
