// How near each vertex is to a single goal, found by searching back from it: what guides and prunes the many searches
// that Yen's algorithm makes.
//
// Idea: one search from the goal against the claims, over (entity, position of the path), until it reaches the start.
// What it finished has its exact distance, anything else is at least as far as the search came. If it ends without the
// start, there is no chain. After Hart, Nilsson, Raphael (1968) and the reverse tree of Jimenez and Marzal (1999).
// Cost: the neighbourhood of the goal up to the start, once.
#pragma once

#include <unordered_map>

#include "queries/chain_space.h"

namespace saggar {

template <class Graph>
class GoalBound {
public:
    // `question.only_goal` must be set. Gives up after `most_settled` vertices; the bounds hold all the same.
    GoalBound(const Graph& graph, const PathPositions& automaton, const ChainQuestion& question, std::size_t most_settled)
        : graph_(graph), automaton_(automaton), question_(question), before_(automaton.count()) {
        for (PathPositions::Position from = 0; from < automaton.count(); ++from)
            for (const PathPositions::Position to : automaton.follow(from)) before_[to].push_back(from);
        // Vertex 0 stands before every way the goal can be reached.
        nodes_.emplace_back();
        nodes_[0].expanded = true;
        for (PathPositions::Position position = 1; position < automaton.count(); ++position)
            if (automaton.accepts(position)) {
                const ChainVertex target = vertex(*question.only_goal, position);
                nodes_[0].edges.push_back({target, 0});
            }
        BestFirst<GoalBound> search(*this);
        ChainBans bans;
        bans.most_settled = most_settled;
        found_ = search.run(0, bans).has_value();
        gave_up_ = search.gave_up();
        settled_ = search.settled();
        far_ = found_ || gave_up_ ? search.radius() : std::numeric_limits<double>::infinity();
        for (ChainVertex v = 0; v < nodes_.size(); ++v) {
            const std::optional<double> distance = search.settled_distance(v);
            nodes_[v].distance = distance ? *distance : far_;
        }
    }

    // Whether there may be a chain at all.
    bool may_reach() const { return found_ || gave_up_; }
    std::size_t settled() const { return settled_; }

    // A lower bound of the weight from this entity, read up to any of these positions, to the goal.
    double operator()(EntityId entity, const std::vector<PathPositions::Position>& positions) const {
        const auto found = by_entity_.find(entity.value);
        if (found == by_entity_.end()) return far_;
        double best = far_;
        for (const ChainVertex v : found->second)
            if (std::binary_search(positions.begin(), positions.end(), nodes_[v].position))
                best = std::min(best, nodes_[v].distance);
        return best;
    }

    // The space that is searched (see the concept ChainSpace).
    std::span<const ChainEdge> out(ChainVertex at) {
        if (!nodes_[at].expanded) expand(at);
        return nodes_[at].edges;
    }
    std::uint32_t place(ChainVertex at) const { return at; }
    bool is_goal(ChainVertex at) const { return at != 0 && nodes_[at].position == 0 && nodes_[at].entity == question_.from; }
    double bound(ChainVertex) const { return 0; }

private:
    struct Node {
        EntityId entity;
        PathPositions::Position position = 0;
        bool expanded = false;
        double distance = 0;
        std::vector<ChainEdge> edges;
    };

    void expand(ChainVertex at) {
        const EntityId here = nodes_[at].entity;
        const PathPositions::Position position = nodes_[at].position;
        std::vector<ChainEdge> edges;
        if (at != 0 && (position != 0 || question_.is_identity)) {
            for (const Link& link : graph_.links(here, choice_of(position))) {
                if (link.other == here) continue;
                if (question_.is_identity && question_.is_identity(link.claim)) {
                    const double weight = chain_weight(question_.support(link.claim));
                    if (weight != std::numeric_limits<double>::infinity())
                        edges.push_back({vertex(link.other, position), weight});
                }
                if (position == 0) continue;
                const RelationIndex relation = question_.relation_index[link.claim.relation.value];
                if (!automaton_.fits(position, relation, !link.forward)) continue;
                const double weight = chain_weight(question_.support(link.claim));
                if (weight == std::numeric_limits<double>::infinity()) continue;
                for (const PathPositions::Position earlier : before_[position])
                    edges.push_back({vertex(link.other, earlier), weight});
            }
        }
        nodes_[at].edges = std::move(edges);
        nodes_[at].expanded = true;
    }

    LinkChoiceNumber choice_of(PathPositions::Position position) {
        if constexpr (Graph::reads_by_choice) {
            if (position >= choices_.size()) choices_.resize(position + std::size_t{1});
            if (!choices_[position])
                choices_[position] = graph_.choose(link_choice(question_, [&](RelationIndex relation, bool forward) {
                    return position != 0 && automaton_.fits(position, relation, !forward);
                }));
            return *choices_[position];
        }
        return 0;
    }

    ChainVertex vertex(EntityId entity, PathPositions::Position position) {
        std::vector<ChainVertex>& here = by_entity_[entity.value];
        for (const ChainVertex known : here)
            if (nodes_[known].position == position) return known;
        Node node;
        node.entity = entity;
        node.position = position;
        nodes_.push_back(std::move(node));
        here.push_back(static_cast<ChainVertex>(nodes_.size() - 1));
        return here.back();
    }

    const Graph& graph_;
    const PathPositions& automaton_;
    const ChainQuestion& question_;
    std::vector<std::vector<PathPositions::Position>> before_;
    std::vector<Node> nodes_;
    std::vector<std::optional<LinkChoiceNumber>> choices_;  // by position
    std::unordered_map<std::uint64_t, std::vector<ChainVertex>> by_entity_;
    bool found_ = false;
    bool gave_up_ = false;
    double far_ = 0;
    std::size_t settled_ = 0;
};

}  // namespace saggar
