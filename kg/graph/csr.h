// A compact copy of the graph in memory (compressed sparse rows), bound to the snapshot it was made from: for questions
// about the whole graph.
//
// Claims between entities only; 20 bytes each, and 8 for each entity. Reading it from the snapshot is one scan.
// Reading threads may share a copy; it needs the snapshot only while it is made.
#pragma once

#include <boost/iterator/iterator_facade.hpp>
#include <cstdint>
#include <vector>

#include "kg/graph/boost_graph.h"
#include "kg/store/rows.h"

namespace saggar {

class Snapshot;

class GraphCsr : public BoostGraph {
public:
    // One claim of the copy.
    struct Row {
        std::uint32_t from = 0;
        std::uint32_t to = 0;
        std::uint32_t relation = 0;
        std::uint32_t number = 0;
        ClaimRef claim() const { return {EntityId{from + std::uint64_t{1}}, RelationId{relation}, number}; }
    };

    class EdgeIterator
        : public boost::iterator_facade<EdgeIterator, GraphEdge, boost::random_access_traversal_tag, GraphEdge> {
    public:
        EdgeIterator() = default;
        EdgeIterator(const GraphCsr* graph, std::size_t slot, bool forward) : graph_(graph), slot_(slot), forward_(forward) {}

    private:
        friend class boost::iterator_core_access;
        GraphEdge dereference() const {
            const Row& row = graph_->row(slot_, forward_);
            return {row.from, row.to, row.claim()};
        }
        void increment() { ++slot_; }
        void decrement() { --slot_; }
        void advance(std::ptrdiff_t n) { slot_ += static_cast<std::size_t>(n); }
        std::ptrdiff_t distance_to(const EdgeIterator& other) const {
            return static_cast<std::ptrdiff_t>(other.slot_) - static_cast<std::ptrdiff_t>(slot_);
        }
        bool equal(const EdgeIterator& other) const { return slot_ == other.slot_; }
        const GraphCsr* graph_ = nullptr;
        std::size_t slot_ = 0;
        bool forward_ = true;
    };
    using out_edge_iterator = EdgeIterator;
    using in_edge_iterator = EdgeIterator;

    // LimitFault where there are 2^32 entities or claims, or more.
    explicit GraphCsr(const Snapshot& snapshot);

    std::size_t edge_count() const { return out_.size(); }
    // The entry of the snapshot it was made from.
    std::uint64_t entry() const { return entry_; }

    std::pair<EdgeIterator, EdgeIterator> out_edges_of(GraphVertex v) const {
        return {EdgeIterator(this, out_begin_[v], true), EdgeIterator(this, out_begin_[v + 1], true)};
    }
    std::pair<EdgeIterator, EdgeIterator> in_edges_of(GraphVertex v) const {
        return {EdgeIterator(this, in_begin_[v], false), EdgeIterator(this, in_begin_[v + 1], false)};
    }

    // Links of one entity, made while they are walked; as GraphView::links, each side in key order of the subjects.
    class Links {
    public:
        class Iterator {
        public:
            Iterator(const Links* links, std::size_t at) : links_(links), at_(at) {}
            Link operator*() const { return links_->at(at_); }
            Iterator& operator++() {
                ++at_;
                return *this;
            }
            bool operator==(const Iterator& other) const { return at_ == other.at_; }

        private:
            const Links* links_;
            std::size_t at_;
        };
        Links(const GraphCsr* graph, GraphVertex v) : graph_(graph), vertex_(v) {}
        Iterator begin() const { return {this, 0}; }
        Iterator end() const { return {this, size()}; }
        std::size_t size() const { return forward() + graph_->in_begin_[vertex_ + 1] - graph_->in_begin_[vertex_]; }
        Link at(std::size_t i) const {
            const bool is_forward = i < forward();
            const std::size_t slot = is_forward ? graph_->out_begin_[vertex_] + i : graph_->in_begin_[vertex_] + i - forward();
            const Row& row = graph_->row(slot, is_forward);
            return {entity_of(is_forward ? row.to : row.from), row.claim(), is_forward};
        }

    private:
        std::size_t forward() const { return graph_->out_begin_[vertex_ + 1] - graph_->out_begin_[vertex_]; }
        const GraphCsr* graph_;
        GraphVertex vertex_;
    };
    Links links(EntityId id) const { return {this, vertex_of(id)}; }

private:
    const Row& row(std::size_t slot, bool forward) const { return out_[forward ? slot : in_[slot]]; }

    std::uint64_t entry_ = 0;
    std::vector<std::uint32_t> out_begin_;  // by vertex, and one more
    std::vector<std::uint32_t> in_begin_;
    std::vector<Row> out_;           // by subject
    std::vector<std::uint32_t> in_;  // by object: where in out_
};

}  // namespace saggar

namespace boost {
template <>
struct property_map<saggar::GraphCsr, vertex_index_t> {
    using type = typed_identity_property_map<saggar::GraphVertex>;
    using const_type = type;
};
}  // namespace boost
