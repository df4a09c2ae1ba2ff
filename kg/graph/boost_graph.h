// What GraphView and GraphCsr have in common as graphs of Boost.Graph: descriptors, and the free functions of the
// concepts IncidenceGraph, BidirectionalGraph and VertexListGraph.
//
// Vertices are entities, numbered from 0 without gaps (the entity id less one), so a vector serves as property map.
// Edges are the claims between entities, from subject to object; each carries its claim, so weights need no look-up.
// A graph class joins by deriving from BoostGraph and giving out_edges_of(v) and in_edges_of(v) as pairs of multi-pass
// iterators over GraphEdge.
#pragma once

#include <boost/graph/graph_traits.hpp>
#include <boost/graph/properties.hpp>
#include <boost/iterator/counting_iterator.hpp>
#include <boost/property_map/property_map.hpp>
#include <concepts>
#include <cstddef>
#include <iterator>
#include <utility>

#include "kg/store/ids.h"

namespace saggar {

using GraphVertex = std::size_t;

inline GraphVertex vertex_of(EntityId id) { return static_cast<GraphVertex>(id.value - 1); }
inline EntityId entity_of(GraphVertex vertex) { return EntityId{static_cast<std::uint64_t>(vertex) + 1}; }

struct GraphEdge {
    GraphVertex from = 0;
    GraphVertex to = 0;
    ClaimRef claim;
    auto operator<=>(const GraphEdge&) const = default;
};

class BoostGraph {
public:
    using vertex_descriptor = GraphVertex;
    using edge_descriptor = GraphEdge;
    using vertex_iterator = boost::counting_iterator<GraphVertex>;
    using vertices_size_type = std::size_t;
    using edges_size_type = std::size_t;
    using degree_size_type = std::size_t;
    using directed_category = boost::bidirectional_tag;
    using edge_parallel_category = boost::allow_parallel_edge_tag;
    struct traversal_category : boost::bidirectional_graph_tag, boost::vertex_list_graph_tag {};

    static GraphVertex null_vertex() { return static_cast<GraphVertex>(-1); }
    std::size_t vertex_count() const { return vertex_count_; }

protected:
    explicit BoostGraph(std::size_t vertex_count) : vertex_count_(vertex_count) {}
    ~BoostGraph() = default;

private:
    std::size_t vertex_count_;
};

template <class G>
concept EntityGraph = std::derived_from<G, BoostGraph>;

template <EntityGraph G>
auto out_edges(GraphVertex vertex, const G& graph) {
    return graph.out_edges_of(vertex);
}
template <EntityGraph G>
auto in_edges(GraphVertex vertex, const G& graph) {
    return graph.in_edges_of(vertex);
}
template <EntityGraph G>
std::size_t out_degree(GraphVertex vertex, const G& graph) {
    const auto edges = graph.out_edges_of(vertex);
    return static_cast<std::size_t>(std::distance(edges.first, edges.second));
}
template <EntityGraph G>
std::size_t in_degree(GraphVertex vertex, const G& graph) {
    const auto edges = graph.in_edges_of(vertex);
    return static_cast<std::size_t>(std::distance(edges.first, edges.second));
}
template <EntityGraph G>
std::size_t degree(GraphVertex vertex, const G& graph) {
    return out_degree(vertex, graph) + in_degree(vertex, graph);
}
template <EntityGraph G>
GraphVertex source(const GraphEdge& edge, const G&) {
    return edge.from;
}
template <EntityGraph G>
GraphVertex target(const GraphEdge& edge, const G&) {
    return edge.to;
}
template <EntityGraph G>
std::pair<BoostGraph::vertex_iterator, BoostGraph::vertex_iterator> vertices(const G& graph) {
    return {BoostGraph::vertex_iterator(0), BoostGraph::vertex_iterator(graph.vertex_count())};
}
template <EntityGraph G>
std::size_t num_vertices(const G& graph) {
    return graph.vertex_count();
}
template <EntityGraph G>
boost::typed_identity_property_map<GraphVertex> get(boost::vertex_index_t, const G&) {
    return {};
}
template <EntityGraph G>
GraphVertex get(boost::vertex_index_t, const G&, GraphVertex vertex) {
    return vertex;
}

}  // namespace saggar
