// A compact copy of the graph in memory (compressed sparse rows), bound to the snapshot it was made from: for questions
// about the whole graph.
//
// Claims between entities only; 24 bytes each, and 8 for each entity. Reading it from the snapshot is one scan.
// Reading threads may share a copy; it needs the snapshot only while it is made.
#pragma once

#include <boost/iterator/iterator_facade.hpp>
#include <cstdint>
#include <vector>

#include "kg/graph/boost_graph.h"
#include "kg/store/link_choice.h"
#include "kg/store/rows.h"

namespace saggar {

class Snapshot;

class GraphCsr : public BoostGraph {
public:
    // One claim, seen from one of its ends.
    struct Row {
        std::uint32_t other = 0;  // vertex at the other end
        std::uint32_t relation = 0;
        std::uint32_t number = 0;
    };

    // Claims of one vertex, in one direction.
    class EdgeIterator
        : public boost::iterator_facade<EdgeIterator, GraphEdge, boost::random_access_traversal_tag, GraphEdge> {
    public:
        EdgeIterator() = default;
        EdgeIterator(GraphVertex here, const Row* row, bool forward) : here_(here), row_(row), forward_(forward) {}

    private:
        friend class boost::iterator_core_access;
        GraphEdge dereference() const {
            const GraphVertex from = forward_ ? here_ : row_->other, to = forward_ ? row_->other : here_;
            return {from, to, ClaimRef{entity_of(from), RelationId{row_->relation}, row_->number}};
        }
        void increment() { ++row_; }
        void decrement() { --row_; }
        void advance(std::ptrdiff_t n) { row_ += n; }
        std::ptrdiff_t distance_to(const EdgeIterator& other) const { return other.row_ - row_; }
        bool equal(const EdgeIterator& other) const { return row_ == other.row_; }
        GraphVertex here_ = 0;
        const Row* row_ = nullptr;
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
        return {EdgeIterator(v, out_.data() + out_begin_[v], true), EdgeIterator(v, out_.data() + out_begin_[v + 1], true)};
    }
    std::pair<EdgeIterator, EdgeIterator> in_edges_of(GraphVertex v) const {
        return {EdgeIterator(v, in_.data() + in_begin_[v], false), EdgeIterator(v, in_.data() + in_begin_[v + 1], false)};
    }

    // Links of one entity, made while they are walked; in the order of GraphView::links.
    class Links {
    public:
        class Iterator {
        public:
            Iterator(const Links* links, const Row* row, bool forward) : links_(links), row_(row), forward_(forward) {
                turn();
            }
            Link operator*() const {
                const EntityId here = entity_of(links_->vertex_), other = entity_of(row_->other);
                return {other, ClaimRef{forward_ ? here : other, RelationId{row_->relation}, row_->number}, forward_};
            }
            Iterator& operator++() {
                ++row_;
                turn();
                return *this;
            }
            bool operator==(const Iterator& other) const { return row_ == other.row_; }

        private:
            // From the end of the claims of the entity to the beginning of those about it.
            void turn() {
                if (!forward_ || row_ != links_->out_end_) return;
                row_ = links_->in_begin_;
                forward_ = false;
            }
            const Links* links_;
            const Row* row_;
            bool forward_;
        };
        Links(const GraphCsr& graph, GraphVertex v)
            : vertex_(v), out_begin_(graph.out_.data() + graph.out_begin_[v]),
              out_end_(graph.out_.data() + graph.out_begin_[v + 1]), in_begin_(graph.in_.data() + graph.in_begin_[v]),
              in_end_(graph.in_.data() + graph.in_begin_[v + 1]) {}
        Iterator begin() const { return {this, out_begin_, true}; }
        Iterator end() const { return {this, in_end_, false}; }
        std::size_t size() const { return static_cast<std::size_t>((out_end_ - out_begin_) + (in_end_ - in_begin_)); }

    private:
        GraphVertex vertex_;
        const Row* out_begin_;
        const Row* out_end_;
        const Row* in_begin_;
        const Row* in_end_;
    };
    Links links(EntityId id) const { return {*this, vertex_of(id)}; }
    // All of them: in memory there is nothing to save.
    Links links(EntityId id, LinkChoiceNumber) const { return links(id); }
    static constexpr bool reads_by_choice = false;

private:
    std::uint64_t entry_ = 0;
    std::vector<std::uint32_t> out_begin_;  // by vertex, and one more
    std::vector<std::uint32_t> in_begin_;
    std::vector<Row> out_;  // by subject
    std::vector<Row> in_;   // by object
};

}  // namespace saggar

namespace boost {
template <>
struct property_map<saggar::GraphCsr, vertex_index_t> {
    using type = typed_identity_property_map<saggar::GraphVertex>;
    using const_type = type;
};
}  // namespace boost
