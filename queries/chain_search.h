// The k best chains of claims from one entity to a goal, on any graph of links.
//
// Joins the stages: the path's machine (path_automaton), the space of entities and states (chain_space), the bound from
// a single goal (goal_bound), and Yen's algorithm (yen). trace.h asks it on a snapshot; the same search runs on the
// compact copy.
#pragma once

#include <functional>
#include <vector>

#include "queries/chain_space.h"
#include "queries/chain_web.h"
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

// One search, to be asked several things; what it has read and weighed is kept. Everything given must outlive it.
template <class Graph>
class ChainSearch {
public:
    // `most_settled`: how far the search back from a single goal may go.
    ChainSearch(const Graph& graph, const PathExpression& path, const ChainQuestion& question, std::size_t most_settled)
        : question_(question), machine_(path) {
        nothing_ = question.only_goal && *question.only_goal == question.from;  // only a chain of no step
        typename ClaimSpace<Graph>::Bound bound;
        if (question.only_goal && !nothing_) {
            from_goal_.emplace(graph, machine_.automaton(), question, most_settled);
            nothing_ = !from_goal_->may_reach();
            bound = std::cref(*from_goal_);
        }
        space_.emplace(graph, machine_, question, bound);
    }
    ChainSearch(const ChainSearch&) = delete;
    ChainSearch& operator=(const ChainSearch&) = delete;

    // The lightest chains; with `wanted`, of those it accepts.
    FoundChains best(const ChainLimits& limits, const std::function<bool(const FoundChain&)>& wanted = {}) {
        FoundChains found;
        if (from_goal_) found.settled = from_goal_->settled();
        if (nothing_) return found;
        std::function<bool(const ChainWay&)> wanted_way;
        if (wanted) wanted_way = [&](const ChainWay& way) { return wanted(to_chain(way)); };
        YenLimits yen;
        yen.best = limits.best;
        yen.ties = limits.ties;
        yen.searches = limits.searches;
        yen.settled = limits.settled;
        const YenResult ways = best_ways(*space_, space_->start(), yen, !question_.only_goal, wanted_way);
        for (const ChainWay& way : ways.ways) found.chains.push_back(to_chain(way));
        found.complete = ways.complete;
        found.settled += ways.settled;
        return found;
    }

    // All chains at once, as arrows from the start to the first goal on each; nothing where there are more arrows than
    // `most_arrows`, or where an entity could be passed twice on a way that the path allows (then arrows would also
    // stand for ways that are no chains).
    std::optional<ClaimWeb> web(std::size_t most_arrows) {
        if (nothing_) return std::nullopt;
        return web_of(*space_, most_arrows);
    }

private:
    FoundChain to_chain(const ChainWay& way) const {
        FoundChain chain;
        chain.weight = way.weight;
        for (std::size_t i = 0; i < way.slots.size(); ++i) {
            const Link& link = space_->link(way.vertices[i], way.slots[i]);
            chain.steps.push_back({link.claim, space_->entity(way.vertices[i]), link.other, link.forward});
        }
        return chain;
    }

    const ChainQuestion& question_;
    PathMachine machine_;
    std::optional<GoalBound<Graph>> from_goal_;
    std::optional<ClaimSpace<Graph>> space_;
    bool nothing_ = false;
};

template <class Graph>
FoundChains find_chains(const Graph& graph, const PathExpression& path, const ChainQuestion& question,
                        const ChainLimits& limits, const std::function<bool(const FoundChain&)>& wanted = {}) {
    return ChainSearch<Graph>(graph, path, question, limits.settled).best(limits, wanted);
}

}  // namespace saggar
