// A flat hash map from content ids: open addressing, no allocation per entry. Ids are uniformly distributed already.
#pragma once

#include <cstdint>
#include <cstring>
#include <vector>

#include "kg/model/content_id.h"

namespace saggar {

template <typename Value>
class ContentMap {
public:
    std::size_t size() const { return size_; }

    Value* find(const ContentId& id) {
        if (slots_.empty()) return nullptr;
        for (std::size_t at = home(id);; at = next(at)) {
            if (slots_[at].id == id) return &slots_[at].value;
            if (slots_[at].id.empty()) return nullptr;
        }
    }
    const Value* find(const ContentId& id) const { return const_cast<ContentMap*>(this)->find(id); }

    // The value stays where it is until the next insert. `id` must not be empty nor in the map.
    Value& insert(const ContentId& id, Value value) {
        if ((size_ + 1) * 10 > slots_.size() * 7) grow();
        ++size_;
        return place(id, std::move(value));
    }

private:
    struct Slot {
        ContentId id;
        Value value{};
    };
    std::size_t home(const ContentId& id) const { return std::hash<ContentId>{}(id) & (slots_.size() - 1); }
    std::size_t next(std::size_t at) const { return (at + 1) & (slots_.size() - 1); }
    Value& place(const ContentId& id, Value value) {
        std::size_t at = home(id);
        while (!slots_[at].id.empty()) at = next(at);
        slots_[at] = Slot{id, std::move(value)};
        return slots_[at].value;
    }
    void grow() {
        std::vector<Slot> old(slots_.empty() ? 64 : slots_.size() * 2);
        old.swap(slots_);
        for (Slot& slot : old)
            if (!slot.id.empty()) place(slot.id, std::move(slot.value));
    }
    std::vector<Slot> slots_;
    std::size_t size_ = 0;
};

}  // namespace saggar
