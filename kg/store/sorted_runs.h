// Sorting more key-value pairs than fit in memory: pairs are gathered in chunks; a full chunk is put in order and
// spilled to disk, by a helper thread where there is one; in the end the runs are merged. Of equal keys the pair added
// last wins.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "kg/store/pair_chunk.h"

namespace saggar {

class Background;

class SortedRuns {
public:
    // Spills into files of `folder` (made when needed) named after `name`. `budget_bytes`: of all chunks in memory at a time.
    // `helper`: sorts and spills; it must be finished before merge() and before this goes. Without one it is done at once.
    // `look`: is shown each full chunk by the same thread before it is sorted.
    SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes, KeyShape shape = {},
               Background* helper = nullptr, std::function<void(const PairChunk&)> look = {});
    ~SortedRuns();  // removes its files
    SortedRuns(const SortedRuns&) = delete;
    SortedRuns& operator=(const SortedRuns&) = delete;

    void add(std::string_view key, std::string_view value);
    std::size_t size() const { return count_; }
    // The last chunk, which `look` was not shown.
    const PairChunk& rest() const { return *chunk_; }

    // Calls visit for every key in order, once. The views live during the call only. May be called once.
    void merge(const std::function<void(std::string_view key, std::string_view value)>& visit);

private:
    void hand_over();

    std::filesystem::path folder_;
    std::string name_;
    std::size_t chunk_bytes_;
    KeyShape shape_;
    Background* helper_;
    std::function<void(const PairChunk&)> look_;
    std::size_t count_ = 0;
    std::unique_ptr<PairChunk> chunk_;  // being filled
    std::vector<std::filesystem::path> spilled_;
};

}  // namespace saggar
