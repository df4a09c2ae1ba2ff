// The k cheapest ways from a vertex to any goal that pass no place twice.
//
// Idea: Yen, "Finding the k shortest loopless paths in a network" (Management Science 17, 1971), with Lawler's saving
// (1972): all ways are split into sets "begins like this, goes on with none of these"; the best way of each set waits
// in order; the best of all is taken out and its set is split again. Two additions: there may be many goals, and a way
// may go on beyond one; and vertices may share a place. A way that passes a place twice is split like any other, but
// not given; beginnings that already repeat a place are dropped.
// Cost: each split is at most one search for each step of the way taken out. Searches stop at the weight of the k-th
// way in hand. With one vertex for each place this is Yen's bound; with shared places the problem is hard in general
// (Mendelzon and Wood 1995), so the number of searches is limited.
#pragma once

#include <functional>
#include <map>
#include <set>
#include <tuple>

#include "queries/best_first.h"

namespace saggar {

struct YenLimits {
    std::size_t best = 1;             // k
    std::size_t ties = 0;             // how many more to give when they weigh the same as the k-th
    std::size_t searches = 20000;     // for all of it
    std::size_t settled = 2000000;    // vertices settled, for all of it
};

struct YenResult {
    std::vector<ChainWay> ways;  // by weight, then by number of steps, then by vertices
    bool complete = true;        // false: a limit was met, there may be others
    std::size_t searches = 0;
    std::size_t settled = 0;
};

template <ChainSpace Space>
class Yen {
public:
    // `beyond_goals`: whether a way may pass through one goal to reach another.
    // `wanted`: which ways to give; the others are split and passed over. Empty: all.
    Yen(Space& space, ChainVertex start, const YenLimits& limits, bool beyond_goals,
        std::function<bool(const ChainWay&)> wanted)
        : space_(space), search_(space), start_(start), limits_(limits), beyond_goals_(beyond_goals),
          wanted_(std::move(wanted)) {}

    YenResult run() {
        forks_.emplace_back();
        forks_[0].ended = true;  // a way has at least one step
        look_from(ChainWay{{start_}, {}, 0}, 0, 0);
        while (!waiting_.empty() && !enough()) {
            const Waiting best = *waiting_.begin();
            waiting_.erase(waiting_.begin());
            if (best.to_give) result_.ways.push_back(best.way);
            if (result_.ways.size() < limits_.best + limits_.ties) split(best);
        }
        return std::move(result_);
    }

private:
    // Where ways already taken out part: the slots used after one beginning.
    struct Fork {
        std::map<std::uint32_t, std::size_t> next;  // slot -> fork
        bool ended = false;                         // a way ends here
    };
    struct Waiting {
        ChainWay way;
        std::size_t parted = 0;  // index of the vertex where it left the way it was split from
        std::size_t fork = 0;    // the fork at that vertex
        std::size_t repeat = 0;  // index of the first vertex whose place came before; the length where there is none
        bool to_give = false;
        bool operator<(const Waiting& other) const {
            const std::size_t steps = way.slots.size(), other_steps = other.way.slots.size();
            return std::tie(way.weight, steps, way.vertices, way.slots) <
                   std::tie(other.way.weight, other_steps, other.way.vertices, other.way.slots);
        }
    };

    static double with_slack(double weight) { return weight + 1e-12 * (1 + weight); }

    bool enough() const {
        const std::vector<ChainWay>& ways = result_.ways;
        if (ways.size() < limits_.best) return false;
        if (ways.size() >= limits_.best + limits_.ties) return true;
        return waiting_.begin()->way.weight > with_slack(ways[limits_.best - 1].weight);
    }

    // The weight beyond which a new way cannot be among those given.
    double most_useful() const {
        if (result_.ways.size() >= limits_.best) return with_slack(result_.ways[limits_.best - 1].weight);
        std::size_t wanted = limits_.best - result_.ways.size();
        for (const Waiting& waiting : waiting_) {
            if (waiting.to_give && --wanted == 0) return with_slack(waiting.way.weight);
        }
        return std::numeric_limits<double>::infinity();
    }

    void split(const Waiting& taken) {
        const ChainWay& way = taken.way;
        std::size_t fork = taken.fork;
        for (std::size_t i = taken.parted; i < way.vertices.size(); ++i) {
            const bool last = i + 1 == way.vertices.size();
            if (last) {
                forks_[fork].ended = true;
            } else if (!forks_[fork].next.count(way.slots[i])) {
                forks_[fork].next.emplace(way.slots[i], forks_.size());
                forks_.emplace_back();
            }
            if (i < taken.repeat && (!last || beyond_goals_)) {
                ChainWay beginning;
                beginning.vertices.assign(way.vertices.begin(), way.vertices.begin() + static_cast<std::ptrdiff_t>(i) + 1);
                beginning.slots.assign(way.slots.begin(), way.slots.begin() + static_cast<std::ptrdiff_t>(i));
                for (std::size_t j = 0; j < i; ++j) beginning.weight += space_.out(way.vertices[j])[way.slots[j]].weight;
                look_from(std::move(beginning), i, fork);
            }
            if (!last) fork = forks_[fork].next.at(way.slots[i]);
        }
    }

    // The best way that begins so and takes none of the slots used at this fork.
    void look_from(ChainWay beginning, std::size_t parted, std::size_t fork) {
        if (result_.searches >= limits_.searches || result_.settled >= limits_.settled) {
            result_.complete = false;
            return;
        }
        ChainBans bans;
        for (const ChainVertex vertex : beginning.vertices) bans.places.insert(space_.place(vertex));
        for (const auto& used : forks_[fork].next) bans.first_slots.insert(used.first);
        bans.end_at_start = forks_[fork].ended;
        bans.most_weight = most_useful() - beginning.weight;
        bans.most_settled = limits_.settled - result_.settled;
        const std::optional<ChainWay> rest = search_.run(beginning.vertices.back(), bans);
        ++result_.searches;
        result_.settled += search_.settled();
        if (search_.gave_up()) result_.complete = false;
        if (!rest) return;
        beginning.vertices.insert(beginning.vertices.end(), rest->vertices.begin() + 1, rest->vertices.end());
        beginning.slots.insert(beginning.slots.end(), rest->slots.begin(), rest->slots.end());
        // Summed from the start, so that equal ways weigh the same however they were found.
        beginning.weight = 0;
        for (std::size_t j = 0; j < beginning.slots.size(); ++j) {
            beginning.weight += space_.out(beginning.vertices[j])[beginning.slots[j]].weight;
        }
        Waiting waiting;
        waiting.parted = parted;
        waiting.fork = fork;
        waiting.repeat = first_repeat(beginning.vertices);
        waiting.to_give = waiting.repeat == beginning.vertices.size() && (!wanted_ || wanted_(beginning));
        waiting.way = std::move(beginning);
        waiting_.insert(std::move(waiting));
    }

    std::size_t first_repeat(const std::vector<ChainVertex>& vertices) const {
        std::unordered_set<std::uint32_t> seen;
        for (std::size_t i = 0; i < vertices.size(); ++i) {
            if (!seen.insert(space_.place(vertices[i])).second) return i;
        }
        return vertices.size();
    }

    Space& space_;
    BestFirst<Space> search_;
    ChainVertex start_;
    YenLimits limits_;
    bool beyond_goals_;
    std::function<bool(const ChainWay&)> wanted_;
    std::vector<Fork> forks_;
    std::set<Waiting> waiting_;
    YenResult result_;
};

template <ChainSpace Space>
YenResult best_ways(Space& space, ChainVertex start, const YenLimits& limits, bool beyond_goals = true,
                    std::function<bool(const ChainWay&)> wanted = {}) {
    return Yen<Space>(space, start, limits, beyond_goals, std::move(wanted)).run();
}

}  // namespace saggar
