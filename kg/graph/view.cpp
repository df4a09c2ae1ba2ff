#include "kg/graph/view.h"

#include <algorithm>

namespace saggar {

GraphView::GraphView(const Snapshot& snapshot)
    : BoostGraph(static_cast<std::size_t>(snapshot.entity_bound() > 0 ? snapshot.entity_bound() - 1 : 0)),
      snapshot_(&snapshot) {
    known_.reserve(64);
}

LinkChoiceNumber GraphView::choose(const LinkChoice& choice) const {
    constexpr LinkChoiceNumber most = (1u << 20) - 1;
    if (choice_at_.size() >= most) return 0;
    const auto made = choices_.emplace(choice, static_cast<LinkChoiceNumber>(choice_at_.size() + 1));
    if (made.second) choice_at_.push_back(&made.first->first);
    return made.first->second;
}

const GraphView::Neighbours& GraphView::read(EntityId id, LinkChoiceNumber choice) const {
    constexpr std::size_t smallest_block = 64, largest_block = 1024;  // links; most questions need one small block
    if (choice == 0) {
        snapshot_->links(id, scratch_);
    } else {
        snapshot_->links(id, *choice_at_[choice - 1], scratch_);
    }
    Neighbours neighbours;
    neighbours.count = scratch_.size();
    neighbours.forward = static_cast<std::size_t>(
        std::find_if(scratch_.begin(), scratch_.end(), [](const Link& link) { return !link.forward; }) - scratch_.begin());
    Link* to = nullptr;
    if (scratch_.size() > largest_block) {  // a block of its own, put before the one being filled
        const auto own = blocks_.insert(blocks_.begin(), std::make_unique<Link[]>(scratch_.size()));
        to = own->get();
    } else if (!scratch_.empty()) {
        if (block_free_ < scratch_.size()) {
            block_size_ = std::max(scratch_.size(), std::clamp(2 * block_size_, smallest_block, largest_block));
            blocks_.push_back(std::make_unique<Link[]>(block_size_));
            block_free_ = block_size_;
        }
        to = blocks_.back().get() + (block_size_ - block_free_);
        block_free_ -= scratch_.size();
    }
    std::copy(scratch_.begin(), scratch_.end(), to);
    neighbours.links = to;
    return known_.emplace(place_of(id, choice), neighbours).first->second;
}

}  // namespace saggar
