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
    // `helper`: sorts and spills, and must be finished before this goes. Without one it is done at once.
    // `look`: is shown each chunk by the same thread before it is sorted; the last one by show_rest().
    SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes, KeyShape shape = {},
               Background* helper = nullptr, std::function<void(const PairChunk&)> look = {});
    ~SortedRuns();  // removes its files
    SortedRuns(const SortedRuns&) = delete;
    SortedRuns& operator=(const SortedRuns&) = delete;

    void add(std::string_view key, std::string_view value);
    std::size_t size() const { return count_; }
    // Nothing is added afterwards.
    void show_rest();

    // Calls visit for every key in order, once, when the helper is done with them. The views live during the call only. May be
    // called once, from any thread.
    void merge(const std::function<void(std::string_view key, std::string_view value)>& visit);

private:
    void hand_over();

    std::filesystem::path folder_;
    std::string name_;
    std::size_t chunk_bytes_;
    KeyShape shape_;
    Background* helper_;
    std::size_t last_job_ = 0;  // the helper's ticket
    std::function<void(const PairChunk&)> look_;
    std::size_t count_ = 0;
    std::unique_ptr<PairChunk> chunk_;  // being filled
    std::vector<std::filesystem::path> spilled_;
};

}  // namespace saggar
