// The graph as a snapshot sees it, read from disk as far as a question goes: for local questions.
//
// Idea: the neighbourhood of an entity is read once, into memory that stays where it is, so iterators are multi-pass
// and a second visit costs a hash look-up. What was touched stays in memory until the view goes; a question about the
// whole graph belongs on the compact copy (csr.h), which a single full pass already pays for.
// Cost: about 2 microseconds for the first visit of an average entity, 0.05 for later ones.
//
// One thread at a time. The snapshot must outlive the view.
#pragma once

#include <boost/iterator/iterator_facade.hpp>
#include <map>
#include <memory>
#include <span>
#include <unordered_map>
#include <vector>

#include "kg/graph/boost_graph.h"
#include "kg/store/snapshot.h"

namespace saggar {

// Claims of one entity as edges, over the links that a view holds.
class LinkEdgeIterator
    : public boost::iterator_facade<LinkEdgeIterator, GraphEdge, boost::random_access_traversal_tag, GraphEdge> {
public:
    LinkEdgeIterator() = default;
    LinkEdgeIterator(GraphVertex here, const Link* link) : here_(here), link_(link) {}

private:
    friend class boost::iterator_core_access;
    GraphEdge dereference() const {
        const GraphVertex other = vertex_of(link_->other);
        return link_->forward ? GraphEdge{here_, other, link_->claim} : GraphEdge{other, here_, link_->claim};
    }
    void increment() { ++link_; }
    void decrement() { --link_; }
    void advance(std::ptrdiff_t n) { link_ += n; }
    std::ptrdiff_t distance_to(const LinkEdgeIterator& other) const { return other.link_ - link_; }
    bool equal(const LinkEdgeIterator& other) const { return link_ == other.link_; }

    GraphVertex here_ = 0;
    const Link* link_ = nullptr;
};

class GraphView : public BoostGraph {
public:
    using out_edge_iterator = LinkEdgeIterator;
    using in_edge_iterator = LinkEdgeIterator;

    explicit GraphView(const Snapshot& snapshot);

    // Claims between entities that start or end at `id`: those with `id` as subject first. Stays valid while the view does.
    std::span<const Link> links(EntityId id) const { return links(id, 0); }
    // Only those that a choice takes.
    std::span<const Link> links(EntityId id, LinkChoiceNumber choice) const {
        const Neighbours& found = neighbours(id, choice);
        return {found.links, found.count};
    }
    // Makes a choice known; equal ones have the same number.
    LinkChoiceNumber choose(const LinkChoice& choice) const;
    static constexpr bool reads_by_choice = true;  // choosing saves reading
    std::pair<LinkEdgeIterator, LinkEdgeIterator> out_edges_of(GraphVertex vertex) const {
        const Neighbours& found = neighbours(entity_of(vertex), 0);
        return {LinkEdgeIterator(vertex, found.links), LinkEdgeIterator(vertex, found.links + found.forward)};
    }
    std::pair<LinkEdgeIterator, LinkEdgeIterator> in_edges_of(GraphVertex vertex) const {
        const Neighbours& found = neighbours(entity_of(vertex), 0);
        return {LinkEdgeIterator(vertex, found.links + found.forward), LinkEdgeIterator(vertex, found.links + found.count)};
    }
    const Snapshot& snapshot() const { return *snapshot_; }
    // How many entities have been read so far (once for each choice).
    std::size_t touched() const { return known_.size(); }

private:
    struct Neighbours {
        const Link* links = nullptr;
        std::size_t forward = 0;
        std::size_t count = 0;
    };
    // Entity numbers stay below 2^40 (keys.h), so both fit.
    static std::uint64_t place_of(EntityId id, LinkChoiceNumber choice) { return id.value << 20 | choice; }
    const Neighbours& neighbours(EntityId id, LinkChoiceNumber choice) const {
        const auto found = known_.find(place_of(id, choice));
        return found != known_.end() ? found->second : read(id, choice);
    }
    const Neighbours& read(EntityId id, LinkChoiceNumber choice) const;

    const Snapshot* snapshot_;
    mutable std::unordered_map<std::uint64_t, Neighbours> known_;
    mutable std::map<LinkChoice, LinkChoiceNumber> choices_;
    mutable std::vector<const LinkChoice*> choice_at_;  // by number - 1
    // Links are kept in blocks that never move.
    mutable std::vector<std::unique_ptr<Link[]>> blocks_;
    mutable std::size_t block_size_ = 0;  // of the last one
    mutable std::size_t block_free_ = 0;
    mutable std::vector<Link> scratch_;
};

}  // namespace saggar

namespace boost {
template <>
struct property_map<saggar::GraphView, vertex_index_t> {
    using type = typed_identity_property_map<saggar::GraphVertex>;
    using const_type = type;
};
}  // namespace boost
