// All chains of a small neighbourhood at once, as a web of claims (kg/weigh/claim_web.h), for their joint weight.
//
// Idea: what the start reaches, cut down to what reaches a goal; goals are not gone beyond, since a chain that passes one
// goal holds only if the chain to that goal does. Where each entity stands once in what is left, the ways through the
// web are exactly the chains. Cost: linear in what is reached, and bounded.
#pragma once

#include <limits>
#include <optional>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "kg/weigh/claim_web.h"
#include "queries/chain_space.h"

namespace saggar {

// Nothing where more than `most_arrows` would be needed, where no goal is reached, or where an entity stands twice.
template <class Graph>
std::optional<ClaimWeb> web_of(ClaimSpace<Graph>& space, std::size_t most_arrows) {
    struct Found {
        ChainVertex from;
        ChainVertex to;
        ClaimRef claim;
    };
    std::vector<ChainVertex> order{space.start()};
    std::unordered_set<ChainVertex> seen{order[0]};
    std::vector<Found> arrows;
    std::vector<ChainVertex> goals;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const ChainVertex at = order[i];
        if (i != 0 && space.is_goal(at)) {
            goals.push_back(at);
            continue;
        }
        const std::span<const ChainEdge> edges = space.out(at);
        for (std::uint32_t slot = 0; slot < edges.size(); ++slot) {
            const ChainVertex to = edges[slot].target;
            if (space.bound(to) == std::numeric_limits<double>::infinity()) continue;
            if (space.place(to) == space.place(order[0])) continue;  // back to where the chain began
            // Four times as many may be read as may be kept: dead ends fall away below.
            if (arrows.size() >= 4 * most_arrows) return std::nullopt;
            arrows.push_back({at, to, space.link(at, slot).claim});
            if (seen.insert(to).second) order.push_back(to);
        }
    }

    std::unordered_set<ChainVertex> useful(goals.begin(), goals.end());
    for (bool grown = true; grown;) {
        grown = false;
        for (const Found& arrow : arrows)
            if (useful.count(arrow.to) && useful.insert(arrow.from).second) grown = true;
    }
    if (!useful.count(order[0])) return std::nullopt;

    ClaimWeb web;
    std::unordered_map<ChainVertex, std::uint32_t> node;
    std::unordered_set<std::uint32_t> places;
    for (const ChainVertex vertex : order) {
        if (!useful.count(vertex)) continue;
        if (!places.insert(space.place(vertex)).second) return std::nullopt;
        node.emplace(vertex, web.nodes++);
    }
    std::unordered_map<ClaimRef, std::uint32_t> place_of_claim;
    for (const Found& arrow : arrows) {
        if (!useful.count(arrow.from) || !useful.count(arrow.to)) continue;
        if (web.arrows.size() == most_arrows) return std::nullopt;
        const auto placed = place_of_claim.emplace(arrow.claim, static_cast<std::uint32_t>(web.claims.size()));
        if (placed.second) web.claims.push_back(arrow.claim);
        web.arrows.push_back({node.at(arrow.from), node.at(arrow.to), placed.first->second});
    }
    for (const ChainVertex goal : goals) web.goals.push_back(node.at(goal));
    return web;
}

}  // namespace saggar
