// The cheapest way from a vertex to any goal, in a graph that is discovered while it is searched.
//
// Idea: Dijkstra's algorithm (1959) guided by a lower bound (Hart, Nilsson, Raphael 1968), run by Boost.Graph's
// breadth_first_visit over a heap. Distances, colours and heap places are kept for touched vertices only, and only
// those are reset, so a local search costs what it touches and not the size of the graph.
// Cost: (touched edges) x log(touched vertices). Not thread-safe.
#pragma once

#include <algorithm>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/detail/d_ary_heap.hpp>
#include <boost/graph/graph_traits.hpp>
#include <boost/iterator/iterator_facade.hpp>
#include <concepts>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <unordered_set>
#include <utility>
#include <vector>

namespace saggar {

using ChainVertex = std::uint32_t;

struct ChainEdge {
    ChainVertex target = 0;
    double weight = 0;  // not negative
};

// A graph whose vertices are numbered from 0 as they are met. out() may number new vertices; the edges it gave stay
// where they are. place() says which vertices are the same to the reader (a way may pass a place once only).
// bound() is a consistent lower bound of the weight from a vertex to the nearest goal; infinity: no goal from there.
template <class Space>
concept ChainSpace = requires(Space& space, ChainVertex vertex) {
    { space.out(vertex) } -> std::convertible_to<std::span<const ChainEdge>>;
    { space.place(vertex) } -> std::convertible_to<std::uint32_t>;
    { space.is_goal(vertex) } -> std::convertible_to<bool>;
    { space.bound(vertex) } -> std::convertible_to<double>;
};

// The vertices of a way, the slot taken in out() of each but the last, and the sum of the weights.
struct ChainWay {
    std::vector<ChainVertex> vertices;
    std::vector<std::uint32_t> slots;
    double weight = 0;
    bool operator==(const ChainWay&) const = default;
};

// What a search must leave out.
struct ChainBans {
    std::unordered_set<std::uint32_t> places;      // no vertex of these places is entered
    std::unordered_set<std::uint32_t> first_slots; // edges that may not be the first
    bool end_at_start = true;                      // the start itself is no goal
    double most_weight = std::numeric_limits<double>::infinity();  // heavier ways are of no use
    std::size_t most_settled = std::numeric_limits<std::size_t>::max();
};

template <ChainSpace Space>
class BestFirst {
public:
    explicit BestFirst(Space& space) : space_(&space) {}
    BestFirst(const BestFirst&) = delete;
    BestFirst& operator=(const BestFirst&) = delete;

    // The cheapest way that is not banned; nothing where there is none.
    std::optional<ChainWay> run(ChainVertex start, const ChainBans& bans) {
        reset();
        start_ = start;
        bans_ = &bans;
        touch(start);
        const double bound = space_->bound(start);
        if (bound == std::numeric_limits<double>::infinity()) return std::nullopt;
        cells_[start].distance = 0;
        cells_[start].priority = bound;
        boost::breadth_first_visit(Graph{this}, start, *this, Visitor{this}, ColourMap{this});
        if (!found_) return std::nullopt;
        return way_to(*found_);
    }

    // Of the last run: how many vertices were settled, and whether it gave up at most_settled.
    std::size_t settled() const { return settled_; }
    bool gave_up() const { return gave_up_; }
    // Of the last run: the distance from the start, where it is final; and the distance that was reached last, below
    // which no unfinished vertex can be.
    std::optional<double> settled_distance(ChainVertex vertex) const {
        if (vertex >= cells_.size() || cells_[vertex].colour != boost::black_color) return std::nullopt;
        return cells_[vertex].distance;
    }
    double radius() const { return radius_; }

    // The queue that breadth_first_visit works on (Boost's Buffer concept, with update for a lowered priority).
    void push(ChainVertex vertex) { heap_->push(vertex); }
    void pop() { heap_->pop(); }
    ChainVertex top() const { return heap_->top(); }
    bool empty() const {
        return found_ || gave_up_ || heap_->empty() || cells_[heap_->top()].priority > bans_->most_weight;
    }

private:
    struct Cell {
        double distance = 0;
        double priority = 0;
        std::size_t heap_place = 0;
        ChainVertex before = 0;
        std::uint32_t slot = 0;
        boost::default_color_type colour = boost::white_color;
    };
    struct Edge {
        ChainVertex from = 0;
        std::uint32_t slot = 0;
        const ChainEdge* edge = nullptr;
        bool operator==(const Edge& other) const { return from == other.from && slot == other.slot; }
    };
    // Edges of one vertex, without the banned ones.
    class EdgeIterator : public boost::iterator_facade<EdgeIterator, Edge, boost::forward_traversal_tag, Edge> {
    public:
        EdgeIterator() = default;
        EdgeIterator(const BestFirst* search, ChainVertex from, std::span<const ChainEdge> edges, std::uint32_t slot)
            : search_(search), from_(from), edges_(edges), slot_(slot) {
            skip();
        }

    private:
        friend class boost::iterator_core_access;
        void increment() {
            ++slot_;
            skip();
        }
        bool equal(const EdgeIterator& other) const { return slot_ == other.slot_; }
        Edge dereference() const { return Edge{from_, slot_, &edges_[slot_]}; }
        void skip() {
            while (slot_ < edges_.size() && search_->is_banned(from_, slot_, edges_[slot_])) ++slot_;
        }
        const BestFirst* search_ = nullptr;
        ChainVertex from_ = 0;
        std::span<const ChainEdge> edges_;
        std::uint32_t slot_ = 0;
    };
    // The space as an IncidenceGraph of Boost.Graph.
    struct Graph {
        using vertex_descriptor = ChainVertex;
        using edge_descriptor = Edge;
        using out_edge_iterator = EdgeIterator;
        using directed_category = boost::directed_tag;
        using edge_parallel_category = boost::allow_parallel_edge_tag;
        using traversal_category = boost::incidence_graph_tag;
        using degree_size_type = std::size_t;
        BestFirst* search;

        std::pair<EdgeIterator, EdgeIterator> edges_of(ChainVertex vertex) const {
            // A goal that was found is not gone beyond: reading its edges would be for nothing.
            if (search->found_ || search->gave_up_) return {};
            const std::span<const ChainEdge> edges = search->space_->out(vertex);
            return {EdgeIterator(search, vertex, edges, 0),
                    EdgeIterator(search, vertex, edges, static_cast<std::uint32_t>(edges.size()))};
        }
        friend std::pair<EdgeIterator, EdgeIterator> out_edges(ChainVertex vertex, const Graph& graph) {
            return graph.edges_of(vertex);
        }
        friend std::size_t out_degree(ChainVertex vertex, const Graph& graph) {
            const auto edges = graph.edges_of(vertex);
            return static_cast<std::size_t>(std::distance(edges.first, edges.second));
        }
        friend ChainVertex source(const Edge& edge, const Graph&) { return edge.from; }
        friend ChainVertex target(const Edge& edge, const Graph&) { return edge.edge->target; }
    };
    struct Visitor : boost::bfs_visitor<> {
        explicit Visitor(BestFirst* s) : search(s) {}
        BestFirst* search;
        void examine_vertex(ChainVertex vertex, const Graph&) { search->settle(vertex); }
        void tree_edge(const Edge& edge, const Graph&) {
            search->touch(edge.edge->target);
            search->reach(edge);
        }
        void gray_target(const Edge& edge, const Graph&) {
            const double distance = search->cells_[edge.from].distance + edge.edge->weight;
            if (!(distance < search->cells_[edge.edge->target].distance)) return;
            search->reach(edge);
            search->heap_->update(edge.edge->target);
        }
    };
    // Property maps over the cells. Every vertex a map is asked for was touched, but for colours.
    struct ColourMap {
        using key_type = ChainVertex;
        using value_type = boost::default_color_type;
        using reference = value_type;
        using category = boost::read_write_property_map_tag;
        BestFirst* search;
        value_type at(ChainVertex v) const {
            return v < search->cells_.size() ? search->cells_[v].colour : boost::white_color;
        }
        void set(ChainVertex v, value_type colour) const { search->cells_[v].colour = colour; }
        friend value_type get(const ColourMap& map, ChainVertex v) { return map.at(v); }
        friend void put(const ColourMap& map, ChainVertex v, value_type colour) { map.set(v, colour); }
    };
    struct PriorityMap {
        using key_type = ChainVertex;
        using value_type = double;
        using reference = value_type;
        using category = boost::readable_property_map_tag;
        const BestFirst* search;
        value_type at(ChainVertex v) const { return search->cells_[v].priority; }
        friend value_type get(const PriorityMap& map, ChainVertex v) { return map.at(v); }
    };
    struct PlaceMap {
        using key_type = ChainVertex;
        using value_type = std::size_t;
        using reference = value_type;
        using category = boost::read_write_property_map_tag;
        BestFirst* search;
        value_type at(ChainVertex v) const { return search->cells_[v].heap_place; }
        void set(ChainVertex v, value_type place) const { search->cells_[v].heap_place = place; }
        friend value_type get(const PlaceMap& map, ChainVertex v) { return map.at(v); }
        friend void put(const PlaceMap& map, ChainVertex v, value_type place) { map.set(v, place); }
    };

    bool is_banned(ChainVertex from, std::uint32_t slot, const ChainEdge& edge) const {
        if (from == start_ && bans_->first_slots.count(slot)) return true;
        if (!bans_->places.empty() && bans_->places.count(space_->place(edge.target))) return true;
        return space_->bound(edge.target) == std::numeric_limits<double>::infinity();
    }
    void touch(ChainVertex vertex) {
        if (vertex >= cells_.size()) cells_.resize(std::max<std::size_t>(vertex + 1, cells_.size() * 2));
        touched_.push_back(vertex);
    }
    void reach(const Edge& edge) {
        Cell& cell = cells_[edge.edge->target];
        cell.distance = cells_[edge.from].distance + edge.edge->weight;
        cell.priority = cell.distance + space_->bound(edge.edge->target);
        cell.before = edge.from;
        cell.slot = edge.slot;
    }
    void settle(ChainVertex vertex) {
        radius_ = cells_[vertex].distance;
        if (settled_ == bans_->most_settled) {
            gave_up_ = true;
            return;
        }
        ++settled_;
        if (space_->is_goal(vertex) && !(vertex == start_ && bans_->end_at_start)) found_ = vertex;
    }
    ChainWay way_to(ChainVertex goal) const {
        ChainWay way;
        way.weight = cells_[goal].distance;
        for (ChainVertex at = goal; at != start_; at = cells_[at].before) {
            way.vertices.push_back(at);
            way.slots.push_back(cells_[at].slot);
        }
        way.vertices.push_back(start_);
        std::reverse(way.vertices.begin(), way.vertices.end());
        std::reverse(way.slots.begin(), way.slots.end());
        return way;
    }
    void reset() {
        for (const ChainVertex vertex : touched_) cells_[vertex].colour = boost::white_color;
        touched_.clear();
        heap_.emplace(PriorityMap{this}, PlaceMap{this});
        settled_ = 0;
        radius_ = 0;
        gave_up_ = false;
        found_.reset();
    }

    using Heap = boost::d_ary_heap_indirect<ChainVertex, 4, PlaceMap, PriorityMap, std::less<double>>;

    Space* space_;
    std::vector<Cell> cells_;
    std::vector<ChainVertex> touched_;
    std::optional<Heap> heap_;
    ChainVertex start_ = 0;
    const ChainBans* bans_ = nullptr;
    std::size_t settled_ = 0;
    double radius_ = 0;
    bool gave_up_ = false;
    std::optional<ChainVertex> found_;
};

}  // namespace saggar
