// Sorting more key-value pairs than fit in memory: pairs are gathered in an arena, sorted in runs, spilled to disk
// beyond a budget, and merged in order. Of equal keys the pair added last wins.
//
// Cost: up to six passes over the pairs (radix sort on the bytes that differ), n log n only for what still ties.
#pragma once

#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace saggar {

// Which bytes of a key tell most: their positions, ascending, at most 16. Bytes before the last of them that are not named are
// taken to be equal in all keys (the high bytes of numbers that never grow that large); where they are not, sorting is slower
// and just as right. Empty: the first 16 bytes.
struct KeyShape {
    std::vector<std::uint8_t> telling;
    std::size_t radix_bytes = 10;  // how many of them are worth a pass
};

class SortedRuns {
public:
    // Spills into files of `folder` (made when needed) named after `name`.
    SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes, KeyShape shape = {});
    ~SortedRuns();  // removes its files
    SortedRuns(const SortedRuns&) = delete;
    SortedRuns& operator=(const SortedRuns&) = delete;

    void add(std::string_view key, std::string_view value);
    std::size_t size() const { return count_; }

    // Calls visit for every key in order, once. The views live during the call only. May be called once.
    void merge(const std::function<void(std::string_view key, std::string_view value)>& visit);

private:
    struct Item {
        std::uint64_t high = 0;  // the telling bytes of the key, big-endian
        std::uint64_t low = 0;
        std::uint64_t at = 0;  // in the arena; grows with every add, so it also tells which pair came last
    };
    class Run;

    std::string_view key_at(std::uint64_t at) const;
    std::string_view value_at(std::uint64_t at) const;
    bool before(const Item& a, const Item& b) const;
    bool same_key(const Item& a, const Item& b) const;
    Item item_of(std::string_view key);
    void sort_by_comparing();
    static std::size_t byte_of(const Item& item, int position);
    std::vector<int> differing_bytes() const;
    void sort();
    void spill();

    std::filesystem::path folder_;
    std::string name_;
    std::size_t budget_;
    KeyShape shape_;
    std::vector<std::uint8_t> silent_;  // positions taken to be equal in all keys
    std::string silent_bytes_;          // of the first key
    bool shape_fits_ = true;
    std::size_t count_ = 0;
    std::string arena_;
    std::vector<Item> items_;
    std::vector<std::filesystem::path> spilled_;
};

}  // namespace saggar
