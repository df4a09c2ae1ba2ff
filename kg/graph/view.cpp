#include "kg/graph/view.h"

#include <algorithm>

namespace saggar {

GraphView::GraphView(const Snapshot& snapshot)
    : BoostGraph(static_cast<std::size_t>(snapshot.entity_bound() > 0 ? snapshot.entity_bound() - 1 : 0)),
      snapshot_(&snapshot) {}

const GraphView::Neighbours& GraphView::read(EntityId id) const {
    constexpr std::size_t block_links = 1024;
    snapshot_->links(id, scratch_);
    Neighbours neighbours;
    neighbours.count = scratch_.size();
    neighbours.forward = static_cast<std::size_t>(
        std::find_if(scratch_.begin(), scratch_.end(), [](const Link& link) { return !link.forward; }) - scratch_.begin());
    Link* to = nullptr;
    if (scratch_.size() > block_links) {  // a block of its own, put before the one being filled
        const auto own = blocks_.insert(blocks_.begin(), std::make_unique<Link[]>(scratch_.size()));
        to = own->get();
    } else if (!scratch_.empty()) {
        if (block_free_ < scratch_.size()) {
            blocks_.push_back(std::make_unique<Link[]>(block_links));
            block_free_ = block_links;
        }
        to = blocks_.back().get() + (block_links - block_free_);
        block_free_ -= scratch_.size();
    }
    std::copy(scratch_.begin(), scratch_.end(), to);
    neighbours.links = to;
    return known_.emplace(id.value, neighbours).first->second;
}

}  // namespace saggar
