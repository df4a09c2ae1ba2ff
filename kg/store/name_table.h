// A flat hash map from the keys of things to their numbers: open addressing, all texts in one pool. A look-up touches two
// places in memory, where a map of strings touches four.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/store/ids.h"

namespace saggar {

class NameTable {
public:
    // A name about to be looked up. Its view must stay until then.
    struct Probe {
        std::string_view name;
        std::uint64_t hash = 0;
    };
    // Memory is asked for what the look-up will read: other work between these two and find() then hides the wait.
    Probe probe(std::string_view name) const {
        const Probe out{name, std::hash<std::string_view>{}(name)};
        if (!slots_.empty()) __builtin_prefetch(&slots_[out.hash & mask()]);
        return out;
    }
    void fetch_text(const Probe& probe) const {
        if (!slots_.empty()) __builtin_prefetch(pool_.data() + slots_[probe.hash & mask()].begin);
    }

    // No number (0) where the name is not in the table.
    EntityId find(const Probe& probe) const {
        if (slots_.empty()) return {};
        for (std::size_t at = probe.hash & mask(); slots_[at].id; at = (at + 1) & mask())
            if (slots_[at].tag == tag_of(probe.hash) && text(slots_[at]) == probe.name) return slots_[at].id;
        return {};
    }
    EntityId find(std::string_view name) const { return find(probe(name)); }
    // `name` must not be in the table; `id` must not be 0.
    void insert(std::string_view name, EntityId id) {
        if ((size_ + 1) * 2 > slots_.size()) grow();
        const std::uint64_t hash = std::hash<std::string_view>{}(name);
        place(hash, {pool_.size(), static_cast<std::uint32_t>(name.size()), tag_of(hash), id});
        pool_ += name;
        ++size_;
    }
    // Of memory in use, about.
    std::size_t bytes() const { return slots_.size() * sizeof(Slot) + pool_.size(); }
    void clear() {
        std::vector<Slot>().swap(slots_);
        std::string().swap(pool_);
        size_ = 0;
    }
    template <class Visit>
    void each(Visit visit) const {
        for (const Slot& slot : slots_)
            if (slot.id) visit(text(slot), slot.id);
    }

private:
    struct Slot {
        std::uint64_t begin = 0;  // in the pool
        std::uint32_t size = 0;
        std::uint32_t tag = 0;  // bits of the hash that the place does not tell
        EntityId id;
    };
    std::size_t mask() const { return slots_.size() - 1; }
    static std::uint32_t tag_of(std::uint64_t hash) { return static_cast<std::uint32_t>(hash >> 32); }
    std::string_view text(const Slot& slot) const { return {pool_.data() + slot.begin, slot.size}; }
    void place(std::uint64_t hash, const Slot& slot) {
        std::size_t at = hash & mask();
        while (slots_[at].id) at = (at + 1) & mask();
        slots_[at] = slot;
    }
    void grow() {
        std::vector<Slot> old(slots_.empty() ? 64 : slots_.size() * 2);
        old.swap(slots_);
        for (const Slot& slot : old)
            if (slot.id) place(std::hash<std::string_view>{}(text(slot)), slot);
    }

    std::vector<Slot> slots_;  // a power of two of them
    std::string pool_;
    std::size_t size_ = 0;
};

}  // namespace saggar
