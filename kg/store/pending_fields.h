// The encoded fields of things and sources that a change will write, by number. Numbers made in the change are dense, so those made since
// the last spill lie in a plain array; what was spilled waits in the change's overflow.
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "kg/store/codec.h"
#include "kg/store/overflow.h"

namespace saggar {

class PendingFields {
public:
    // `space`: the letter of its keys in the overflow, which must outlive it.
    PendingFields(Overflow& overflow, char space) : overflow_(overflow), space_(space) {}
    // Numbers from here on are made in this change.
    void set_first_new(std::uint64_t first) { array_from_ = next_new_ = first; }

    // Nothing (null) where none are pending. It stays where it is until the next call.
    const std::string* find(std::uint64_t id) const {
        if (const std::string* here = find_here(id)) return here;
        if (!may_be_spilled(id)) return nullptr;
        auto fields = overflow_.get(key_of(id));
        if (!fields) return nullptr;
        fetched_ = std::move(*fields);
        return &fetched_;
    }
    // Encoded fields are never empty.
    void put(std::uint64_t id, std::string fields) {
        if (!find_here(id)) {
            touched_.push_back(id);
            if (!may_be_spilled(id) || !overflow_.get(key_of(id))) ++size_;
        }
        std::string& place = slot(id);
        bytes_ += fields.size() - place.size();
        place = std::move(fields);
    }
    std::size_t size() const { return size_; }
    // Of memory in use, about.
    std::size_t bytes() const { return bytes_ + touched_.size() * (sizeof(std::string) + sizeof(std::uint64_t)); }

    // Those in memory in the order in which they were first put, then those spilled.
    template <class Visit>
    void each(Visit visit) const {
        for (const std::uint64_t id : touched_) visit(id, *find_here(id));
        each_spilled(key_end(), [&](std::uint64_t id, const std::string& fields) { visit(id, fields); });
    }
    // `below`: numbers from here on are not tested, but kept.
    template <class Test>
    void drop_if(std::uint64_t below, Test test) {
        std::vector<std::uint64_t> kept;
        for (const std::uint64_t id : touched_) {
            if (id < below && test(id, *find_here(id))) {
                forget(id);
                if (may_be_spilled(id)) overflow_.remove(key_of(id));
                --size_;
            } else {
                kept.push_back(id);
            }
        }
        touched_ = std::move(kept);
        std::vector<std::string> unwanted;
        each_spilled(key_of(below), [&](std::uint64_t id, const std::string& fields) {
            if (test(id, fields)) unwanted.push_back(key_of(id));
        });
        for (const std::string& key : unwanted) overflow_.remove(key);
        size_ -= unwanted.size();
    }
    void clear() {
        forget_all();
        if (spilled_) overflow_.remove_space(space_);
        spilled_ = false;
        size_ = 0;
    }
    // Out of memory; the caller flushes the overflow.
    void spill() {
        for (const std::uint64_t id : touched_) overflow_.put(key_of(id), *find_here(id));
        spilled_ = spilled_ || !touched_.empty();
        forget_all();
        std::vector<std::string>().swap(made_);
        array_from_ = next_new_;
    }

private:
    bool may_be_spilled(std::uint64_t id) const { return spilled_ && id < array_from_; }
    std::string key_of(std::uint64_t id) const {
        std::string key(1, space_);
        append_big64(key, id);
        return key;
    }
    std::string key_end() const { return std::string(1, static_cast<char>(space_ + 1)); }
    template <class Visit>
    void each_spilled(const std::string& end, Visit visit) const {
        if (!spilled_) return;
        overflow_.each(std::string(1, space_), end, [&](std::string_view key, std::string_view fields) {
            const std::uint64_t id = Bytes(key.substr(1)).big64();
            if (!find_here(id)) visit(id, std::string(fields));
        });
    }
    const std::string* find_here(std::uint64_t id) const {
        if (id >= array_from_) {
            const std::uint64_t at = id - array_from_;
            return at < made_.size() && !made_[at].empty() ? &made_[at] : nullptr;
        }
        const auto found = known_.find(id);
        return found == known_.end() ? nullptr : &found->second;
    }
    std::string& slot(std::uint64_t id) {
        next_new_ = std::max(next_new_, id + 1);
        if (id < array_from_) return known_[id];
        if (id - array_from_ >= made_.size()) made_.resize(id - array_from_ + 1);
        return made_[id - array_from_];
    }
    void forget(std::uint64_t id) {
        std::string& place = slot(id);
        bytes_ -= place.size();
        std::string().swap(place);
        if (id < array_from_) known_.erase(id);
    }
    void forget_all() {
        for (const std::uint64_t id : touched_) forget(id);
        touched_.clear();
    }

    Overflow& overflow_;
    char space_;
    bool spilled_ = false;
    std::uint64_t array_from_ = 1;
    std::uint64_t next_new_ = 1;  // behind the largest number put
    std::vector<std::string> made_;
    std::unordered_map<std::uint64_t, std::string> known_;
    std::vector<std::uint64_t> touched_;  // in memory
    std::size_t size_ = 0;
    std::size_t bytes_ = 0;
    mutable std::string fetched_;
};

}  // namespace saggar
