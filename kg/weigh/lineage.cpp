#include "kg/weigh/lineage.h"

#include <algorithm>

namespace saggar::weighing {

namespace {

std::uint64_t hash_of_inputs(std::span<const Event> events) {
    std::uint64_t hash = 0x9E3779B97F4A7C15ull ^ events.size();
    for (const Event event : events) {
        hash = (hash ^ event.code) * 0xBF58476D1CE4E5B9ull;
        hash ^= hash >> 29;
    }
    return hash;
}

}  // namespace

Lineage::Lineage() { nodes_.push_back({}); }

Event Lineage::chance(double probability, std::uint32_t label) {
    const auto node = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back({static_cast<std::uint32_t>(chances_.size()), variable_mark});
    chances_.push_back(probability);
    labels_.push_back(label);
    variable_nodes_.push_back(node);
    return Event::of(node);
}

std::span<const Event> Lineage::inputs(std::uint32_t node) const {
    const Node& it = nodes_[node];
    if (it.count == variable_mark) return {};
    return std::span<const Event>(inputs_).subspan(it.first, it.count);
}

Event Lineage::all_of(std::span<const Event> events) {
    scratch_.assign(events.begin(), events.end());
    std::sort(scratch_.begin(), scratch_.end());
    scratch_.erase(std::unique(scratch_.begin(), scratch_.end()), scratch_.end());
    if (!scratch_.empty() && scratch_.front() == Event::always()) scratch_.erase(scratch_.begin());
    if (scratch_.empty()) return Event::always();
    if (scratch_.front() == Event::never()) return Event::never();
    for (std::size_t i = 1; i < scratch_.size(); ++i) {
        if (scratch_[i] == !scratch_[i - 1]) return Event::never();
    }
    return scratch_.size() == 1 ? scratch_.front() : intern(scratch_);
}

Event Lineage::any_of(std::span<const Event> events) {
    std::vector<Event> negated(events.begin(), events.end());
    for (Event& event : negated) event = !event;
    return !all_of(negated);
}

Event Lineage::both(Event a, Event b) {
    const Event pair[] = {a, b};
    return all_of(pair);
}

Event Lineage::intern(std::span<const Event> sorted) {
    const std::uint64_t hash = hash_of_inputs(sorted);
    const auto [first, last] = gates_.equal_range(hash);
    for (auto it = first; it != last; ++it) {
        const auto known = inputs(it->second);
        if (std::equal(known.begin(), known.end(), sorted.begin(), sorted.end())) return Event::of(it->second);
    }
    const auto node = static_cast<std::uint32_t>(nodes_.size());
    nodes_.push_back({static_cast<std::uint32_t>(inputs_.size()), static_cast<std::uint32_t>(sorted.size())});
    inputs_.insert(inputs_.end(), sorted.begin(), sorted.end());
    gates_.emplace(hash, node);
    return Event::of(node);
}

}  // namespace saggar::weighing
