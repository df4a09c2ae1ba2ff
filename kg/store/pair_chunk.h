// Key-value pairs gathered in one arena and put in order there: what SortedRuns sorts at a time.
//
// A pair lies in the arena as key-size:varint value-size:varint key value; a spilled run has the same form.
// Cost: one pass to gather the telling bytes, one radix pass per telling byte that differs, n log n only for what still ties.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace saggar {

// Which bytes of a key tell most: their positions, ascending, at most 24. Bytes before the last of them that are not named
// are taken to be equal in all keys (the high bytes of numbers that never grow that large); where they are not, sorting is
// slower and just as right. Empty: bytes 1 to 24, for the first is the family's letter.
struct KeyShape {
    std::vector<std::uint8_t> telling;
    // How many of them are worth a pass. The sort is stable: numbers given in order of arrival need none.
    std::size_t radix_bytes = 24;
};

struct PairView {
    std::string_view key;
    std::string_view value;
    const char* end = nullptr;  // where the next pair begins
};

// The pair that begins at `at`. The bytes must be whole: they are this process's own.
PairView read_pair(const char* at);

class PairChunk {
public:
    void reserve(std::size_t bytes) { arena_.reserve(bytes); }
    void add(std::string_view key, std::string_view value);
    std::size_t bytes() const { return arena_.size(); }
    bool empty() const { return count_ == 0; }

    // Calls visit(key, value) for every pair in the order of arrival.
    template <class Visit>
    void each(Visit visit) const {
        for (const char* at = arena_.data(); at < arena_.data() + arena_.size();) {
            const PairView pair = read_pair(at);
            visit(pair.key, pair.value);
            at = pair.end;
        }
    }

    // Afterwards only each(), pairs(), at() and begin_of() may be called. Of equal keys the pair added last stays.
    void sort(const KeyShape& shape);
    std::size_t pairs() const { return order_.size(); }
    // The i-th pair in order; the views live as long as the chunk.
    PairView at(std::size_t i) const { return read_pair(begin_of(i)); }
    // Where its bytes begin.
    const char* begin_of(std::size_t i) const {
        if (i + fetch_ahead < order_.size()) __builtin_prefetch(arena_.data() + order_[i + fetch_ahead]);
        return arena_.data() + order_[i];
    }

private:
    static constexpr std::size_t fetch_ahead = 12;  // the arena is read out of order, so its lines are asked for early

    std::string arena_;
    std::size_t count_ = 0;
    std::vector<std::uint32_t> order_;  // offsets in the arena, once sorted
};

}  // namespace saggar
