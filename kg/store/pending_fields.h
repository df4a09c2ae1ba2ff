// The encoded fields of things and sources that a change will write, by number. Numbers made in the change are dense, so
// theirs lie in a plain array.
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

namespace saggar {

class PendingFields {
public:
    void set_first_new(std::uint64_t first) { first_new_ = first; }

    // Nothing (null) where none are pending.
    const std::string* find(std::uint64_t id) const {
        if (id >= first_new_) {
            const std::uint64_t at = id - first_new_;
            return at < made_.size() && !made_[at].empty() ? &made_[at] : nullptr;
        }
        const auto found = known_.find(id);
        return found == known_.end() ? nullptr : &found->second;
    }
    // Encoded fields are never empty.
    void put(std::uint64_t id, std::string fields) {
        if (!find(id)) touched_.push_back(id);
        slot(id) = std::move(fields);
    }
    std::size_t size() const { return touched_.size(); }
    // In the order in which they were first put.
    template <class Visit>
    void each(Visit visit) const {
        for (const std::uint64_t id : touched_) visit(id, *find(id));
    }
    template <class Test>
    void drop_if(Test test) {
        std::vector<std::uint64_t> kept;
        for (const std::uint64_t id : touched_) {
            if (test(id, slot(id))) {
                forget(id);
            } else {
                kept.push_back(id);
            }
        }
        touched_ = std::move(kept);
    }
    void clear() {
        for (const std::uint64_t id : touched_) forget(id);
        touched_.clear();
    }

private:
    std::string& slot(std::uint64_t id) {
        if (id < first_new_) return known_[id];
        if (id - first_new_ >= made_.size()) made_.resize(id - first_new_ + 1);
        return made_[id - first_new_];
    }
    void forget(std::uint64_t id) {
        if (id < first_new_) {
            known_.erase(id);
        } else {
            std::string().swap(made_[id - first_new_]);
        }
    }

    std::uint64_t first_new_ = 1;
    std::vector<std::string> made_;
    std::unordered_map<std::uint64_t, std::string> known_;
    std::vector<std::uint64_t> touched_;
};

}  // namespace saggar
