// The graph and a path together: a vertex is an entity reached in a state of the path's machine, an edge is a claim
// that the path may follow there, and its weight is -log of the claim's support. So the lightest way is the chain with
// the greatest product of supports. Vertices are made when a search first meets them.
//
// Graph is GraphView or GraphCsr: anything whose links(EntityId, LinkChoiceNumber) is a range of Link.
// Cost: one visit of an entity's links for each state it is reached in; each claim is weighed at most once for each.
// Not thread-safe.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <unordered_map>
#include <vector>

#include "kg/store/link_choice.h"
#include "kg/store/rows.h"
#include "queries/best_first.h"
#include "queries/path_automaton.h"

namespace saggar {

// What a search along claims has to know of the graph's meaning.
struct ChainQuestion {
    EntityId from;
    std::function<bool(EntityId)> is_goal;            // where a chain may end
    std::optional<EntityId> only_goal;                // set where there is one goal alone: the search is guided from it
    std::function<double(ClaimRef)> support;          // 0..1; 0: the claim is left out
    std::vector<RelationIndex> relation_index;        // by RelationId: its index in the vocabulary
    // Whether the claim says that two names are one thing, and is accepted: it may be walked at any point without the
    // path naming it. Empty: none is.
    std::function<bool(ClaimRef)> is_identity;
    std::vector<RelationId> identity_relations;       // ascending; those of which is_identity may be true
};

// The links that a walk can follow, given what it takes: takes(relation, forward).
template <class Takes>
LinkChoice link_choice(const ChainQuestion& question, Takes takes) {
    LinkChoice choice;
    for (std::uint32_t id = 0; id < question.relation_index.size(); ++id) {
        const bool identity = question.is_identity && std::binary_search(question.identity_relations.begin(),
                                                                         question.identity_relations.end(), RelationId{id});
        if (identity || takes(question.relation_index[id], true)) choice.add(RelationId{id}, true);
        if (identity || takes(question.relation_index[id], false)) choice.add(RelationId{id}, false);
    }
    return choice;
}

// -log of the support; infinity: leave the claim out.
inline double chain_weight(double support) {
    if (!(support > 0)) return std::numeric_limits<double>::infinity();
    return support >= 1 ? 0 : -std::log(support);
}

template <class Graph>
class ClaimSpace {
public:
    using Bound = std::function<double(EntityId, const std::vector<PathPositions::Position>&)>;

    // All three must outlive the space. `bound`: see the concept ChainSpace; empty: 0.
    ClaimSpace(const Graph& graph, PathMachine& machine, const ChainQuestion& question, Bound bound = {})
        : graph_(graph), machine_(machine), question_(question), bound_(std::move(bound)) {}

    // The vertex where every chain begins.
    ChainVertex start() { return vertex(question_.from, machine_.start()); }

    std::span<const ChainEdge> out(ChainVertex at) {
        if (!nodes_[at].expanded) expand(at);
        return nodes_[at].edges;
    }
    std::uint32_t place(ChainVertex at) const { return nodes_[at].place; }
    bool is_goal(ChainVertex at) {
        Node& node = nodes_[at];
        if (node.goal == Goal::not_asked) {
            node.goal = machine_.accepts(node.state) && question_.is_goal(node.entity) ? Goal::yes : Goal::no;
        }
        return node.goal == Goal::yes;
    }
    double bound(ChainVertex at) const { return nodes_[at].bound; }

    EntityId entity(ChainVertex at) const { return nodes_[at].entity; }
    PathMachine::State state(ChainVertex at) const { return nodes_[at].state; }
    const Link& link(ChainVertex at, std::uint32_t slot) const { return nodes_[at].links[slot]; }
    std::size_t size() const { return nodes_.size(); }

private:
    enum class Goal : std::uint8_t { not_asked, no, yes };
    struct Node {
        EntityId entity;
        PathMachine::State state = 0;
        std::uint32_t place = 0;
        bool expanded = false;
        Goal goal = Goal::not_asked;
        double bound = 0;
        std::vector<ChainEdge> edges;
        std::vector<Link> links;  // beside edges
    };

    void expand(ChainVertex at) {
        const EntityId here = nodes_[at].entity;
        const PathMachine::State state = nodes_[at].state;
        std::vector<ChainEdge> edges;
        std::vector<Link> links;
        for (const Link& link : graph_.links(here, choice_of(state))) {
            if (link.other == here) continue;  // a chain passes no entity twice
            const RelationIndex relation = question_.relation_index[link.claim.relation.value];
            PathMachine::State next = machine_.step(state, relation, link.forward);
            if (next == PathMachine::stuck && may_change_name(at, link.claim)) next = state;
            if (next == PathMachine::stuck) continue;
            const double weight = chain_weight(question_.support(link.claim));
            if (weight == std::numeric_limits<double>::infinity()) continue;
            edges.push_back({vertex(link.other, next), weight});
            links.push_back(link);
        }
        Node& node = nodes_[at];
        node.edges = std::move(edges);
        node.links = std::move(links);
        node.expanded = true;
    }

    LinkChoiceNumber choice_of(PathMachine::State state) {
        if constexpr (Graph::reads_by_choice) {
            const auto at = static_cast<std::size_t>(state);
            if (at >= choices_.size()) choices_.resize(at + 1);
            if (!choices_[at])
                choices_[at] = graph_.choose(link_choice(question_, [&](RelationIndex relation, bool forward) {
                    return machine_.step(state, relation, forward) != PathMachine::stuck;
                }));
            return *choices_[at];
        }
        return 0;
    }

    // A chain that has come to a goal does not go on to its other names, unless one of them is the only goal.
    bool may_change_name(ChainVertex at, ClaimRef claim) {
        if (!question_.is_identity || !question_.is_identity(claim)) return false;
        return question_.only_goal || !is_goal(at);
    }

    ChainVertex vertex(EntityId entity, PathMachine::State state) {
        const auto placed = places_.emplace(entity.value, static_cast<std::uint32_t>(at_place_.size()));
        const std::uint32_t place = placed.first->second;
        if (placed.second) at_place_.emplace_back();
        for (const ChainVertex known : at_place_[place])
            if (nodes_[known].state == state) return known;
        Node node;
        node.entity = entity;
        node.state = state;
        node.place = place;
        if (bound_) node.bound = bound_(entity, machine_.positions(state));
        nodes_.push_back(std::move(node));
        const auto made = static_cast<ChainVertex>(nodes_.size() - 1);
        at_place_[place].push_back(made);
        return made;
    }

    const Graph& graph_;
    PathMachine& machine_;
    const ChainQuestion& question_;
    Bound bound_;
    std::vector<Node> nodes_;
    std::vector<std::optional<LinkChoiceNumber>> choices_;      // by state
    std::unordered_map<std::uint64_t, std::uint32_t> places_;   // entity -> place
    std::vector<std::vector<ChainVertex>> at_place_;
};

}  // namespace saggar
