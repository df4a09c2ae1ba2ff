// A flat hash map from content ids: the entries lie in one array in the order of arrival, and a table of their numbers is
// probed by open addressing. An id that is not there is mostly told by one place in memory. Ids are uniformly distributed already.
#pragma once

#include <cstdint>
#include <cstring>
#include <vector>

#include "kg/model/content_id.h"

namespace saggar {

template <typename Value>
class ContentMap {
public:
    std::size_t size() const { return entries_.size(); }
    // Of memory in use, about.
    std::size_t bytes() const { return entries_.size() * sizeof(Entry) + slots_.size() * sizeof(Slot); }
    // In the order of arrival.
    template <class Visit>
    void each(Visit visit) const {
        for (const Entry& entry : entries_) visit(entry.id, entry.value);
    }
    void clear() {
        std::vector<Slot>().swap(slots_);
        std::vector<Entry>().swap(entries_);
    }

    // Memory is asked for what find() will read: other work between hides the wait.
    void fetch(const ContentId& id) const {
        if (!slots_.empty()) __builtin_prefetch(&slots_[hash_of(id) & mask()]);
    }

    // The value stays where it is until the next insert. Null where the id is not in the map.
    Value* find(const ContentId& id) {
        if (slots_.empty()) return nullptr;
        const std::uint64_t hash = hash_of(id);
        for (std::size_t at = hash & mask(); slots_[at].number; at = (at + 1) & mask())
            if (slots_[at].tag == tag_of(hash) && same(entries_[slots_[at].number - 1].id, id))
                return &entries_[slots_[at].number - 1].value;
        return nullptr;
    }
    const Value* find(const ContentId& id) const { return const_cast<ContentMap*>(this)->find(id); }

    // The value stays where it is until the next insert. `id` must not be in the map.
    Value& insert(const ContentId& id, Value value) {
        if ((entries_.size() + 1) * 2 > slots_.size()) grow();
        entries_.push_back(Entry{id, std::move(value)});
        place(hash_of(id), static_cast<std::uint32_t>(entries_.size()));
        return entries_.back().value;
    }

private:
    struct Entry {
        ContentId id;
        Value value;
    };
    struct Slot {
        std::uint32_t number = 0;  // of the entry, from 1; 0: free
        std::uint32_t tag = 0;     // bits of the hash that the place does not tell
    };
    static std::uint64_t hash_of(const ContentId& id) { return std::hash<ContentId>{}(id); }
    static std::uint32_t tag_of(std::uint64_t hash) { return static_cast<std::uint32_t>(hash >> 32); }
    static bool same(const ContentId& a, const ContentId& b) {
        return std::memcmp(a.bytes.data(), b.bytes.data(), a.bytes.size()) == 0;
    }
    std::size_t mask() const { return slots_.size() - 1; }
    void place(std::uint64_t hash, std::uint32_t number) {
        std::size_t at = hash & mask();
        while (slots_[at].number) at = (at + 1) & mask();
        slots_[at] = Slot{number, tag_of(hash)};
    }
    void grow() {
        slots_.assign(slots_.empty() ? 64 : slots_.size() * 2, Slot{});
        for (std::size_t i = 0; i < entries_.size(); ++i) place(hash_of(entries_[i].id), static_cast<std::uint32_t>(i + 1));
    }
    std::vector<Slot> slots_;  // a power of two of them
    std::vector<Entry> entries_;
};

}  // namespace saggar
