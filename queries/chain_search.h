// The k best chains of claims from one entity to a goal, on any graph of links.
//
// Joins the stages: the path's machine (path_automaton), the space of entities and states (chain_space), the bound from
// a single goal (goal_bound), and Yen's algorithm (yen). trace.h asks it on a snapshot; the same search runs on the
// compact copy.
#pragma once

#include <functional>
#include <vector>

#include "queries/chain_space.h"
#include "queries/goal_bound.h"
#include "queries/yen.h"

namespace saggar {

// One claim of a chain, walked from one entity to the next.
struct ChainStep {
    ClaimRef claim;
    EntityId from;
    EntityId to;
    bool forward = true;  // `from` is the claim's subject
    bool operator==(const ChainStep&) const = default;
};

struct FoundChain {
    std::vector<ChainStep> steps;
    double weight = 0;  // -log of the product of the supports
};

struct FoundChains {
    std::vector<FoundChain> chains;  // lightest first
    bool complete = true;            // false: a limit was met, there may be others
    std::size_t settled = 0;         // vertices finished by all searches
};

struct ChainLimits {
    std::size_t best = 5;
    std::size_t ties = 64;          // how many more that weigh the same as the last
    std::size_t searches = 20'000;
    std::size_t settled = 2'000'000;
};

template <class Graph>
FoundChains find_chains(const Graph& graph, const PathExpression& path, const ChainQuestion& question,
                        const ChainLimits& limits, const std::function<bool(const FoundChain&)>& wanted = {}) {
    FoundChains found;
    if (question.only_goal && *question.only_goal == question.from) return found;  // only a chain of no step
    PathMachine machine(path);
    typename ClaimSpace<Graph>::Bound bound;
    std::optional<GoalBound<Graph>> from_goal;
    if (question.only_goal) {
        from_goal.emplace(graph, machine.automaton(), question, limits.settled);
        found.settled = from_goal->settled();
        if (!from_goal->may_reach()) return found;
        bound = std::cref(*from_goal);
    }
    ClaimSpace<Graph> space(graph, machine, question, bound);
    const auto to_chain = [&space](const ChainWay& way) {
        FoundChain chain;
        chain.weight = way.weight;
        for (std::size_t i = 0; i < way.slots.size(); ++i) {
            const Link& link = space.link(way.vertices[i], way.slots[i]);
            chain.steps.push_back({link.claim, space.entity(way.vertices[i]), link.other, link.forward});
        }
        return chain;
    };
    std::function<bool(const ChainWay&)> wanted_way;
    if (wanted) wanted_way = [&](const ChainWay& way) { return wanted(to_chain(way)); };
    YenLimits yen;
    yen.best = limits.best;
    yen.ties = limits.ties;
    yen.searches = limits.searches;
    yen.settled = limits.settled;
    const YenResult ways = best_ways(space, space.start(), yen, !question.only_goal, wanted_way);
    for (const ChainWay& way : ways.ways) found.chains.push_back(to_chain(way));
    found.complete = ways.complete;
    found.settled += ways.settled;
    return found;
}

}  // namespace saggar
