#include "kg/store/pair_chunk.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstring>
#include <memory>
#include <span>
#include <utility>

namespace saggar {
namespace {

constexpr std::size_t telling_bytes = 24;
constexpr std::size_t word_count = telling_bytes / 8;

std::uint32_t read_size(const char*& at) {
    std::uint32_t size = 0;
    for (int shift = 0;; shift += 7) {
        const auto part = static_cast<std::uint8_t>(*at++);
        size |= std::uint32_t{part & 127u} << shift;
        if (part < 128) return size;
    }
}

// One pair while sorting. Without initial values, for there are many.
struct Item {
    std::array<std::uint64_t, word_count> words;  // the telling bytes of the key, big-endian
    std::uint32_t at;                             // in the arena; grows with every add, so it also tells which came last
    std::uint8_t byte(std::size_t position) const {
        return static_cast<std::uint8_t>(words[position / 8] >> (56 - 8 * (position % 8)));
    }
};

// Sorts the pairs of one arena.
class Sorter {
public:
    Sorter(const std::string& arena, std::size_t count, const KeyShape& shape) : arena_(arena), count_(count), shape_(shape),
          memory_(std::make_unique_for_overwrite<Item[]>(count)), items_(memory_.get(), count) {
        if (shape_.telling.empty())
            for (std::size_t i = 0; i < telling_bytes; ++i) shape_.telling.push_back(static_cast<std::uint8_t>(i + 1));
        for (std::uint8_t i = 0; i < shape_.telling.back(); ++i)
            if (!std::binary_search(shape_.telling.begin(), shape_.telling.end(), i)) silent_.push_back(i);
    }

    std::vector<std::uint32_t> order() {
        gather();
        const auto less = [this](const Item& a, const Item& b) { return before(a, b); };
        if (!shape_fits_) {
            std::sort(items_.begin(), items_.end(), less);
        } else {
            radix_sort();
            sort_ties(less);
        }
        std::vector<std::uint32_t> order;
        order.reserve(items_.size());
        for (std::size_t i = 0; i < items_.size(); ++i) {
            if (i + 1 < items_.size() && same_key(items_[i], items_[i + 1])) continue;  // a later pair wins
            order.push_back(items_[i].at);
        }
        return order;
    }

private:
    std::string_view key(const Item& item) const { return read_pair(arena_.data() + item.at).key; }
    bool same_key(const Item& a, const Item& b) const { return a.words == b.words && key(a) == key(b); }
    bool before(const Item& a, const Item& b) const {
        if (shape_fits_ && a.words != b.words) return a.words < b.words;
        const int order = key(a).compare(key(b));
        return order != 0 ? order < 0 : a.at < b.at;
    }

    void gather() {
        std::size_t gathered = 0;
        const char* const begin = arena_.data();
        const char* const end = begin + arena_.size();
        std::string silent_bytes;
        for (const char* at = begin; at < end;) {
            const PairView pair = read_pair(at);
            const auto byte = [&](std::uint8_t position) {
                return position < pair.key.size() ? pair.key[position] : '\0';
            };
            if (at == begin)
                for (const std::uint8_t position : silent_) silent_bytes += byte(position);
            for (std::size_t i = 0; i < silent_.size(); ++i) shape_fits_ &= byte(silent_[i]) == silent_bytes[i];
            char told[telling_bytes] = {};
            for (std::size_t i = 0; i < shape_.telling.size(); ++i) told[i] = byte(shape_.telling[i]);
            Item& item = items_[gathered++];
            for (std::size_t i = 0; i < word_count; ++i) {
                std::uint64_t word;
                std::memcpy(&word, told + 8 * i, 8);
                item.words[i] = std::endian::native == std::endian::little ? __builtin_bswap64(word) : word;
            }
            item.at = static_cast<std::uint32_t>(at - begin);
            at = pair.end;
        }
    }

    // Which of the telling bytes worth a pass differ between keys, the last one first.
    std::vector<std::size_t> differing() const {
        Item all{};
        for (const Item& item : items_)
            for (std::size_t i = 0; i < word_count; ++i) all.words[i] |= item.words[i] ^ items_.front().words[i];
        std::vector<std::size_t> positions;
        for (std::size_t position = std::min(shape_.radix_bytes, shape_.telling.size()); position-- > 0;)
            if (all.byte(position)) positions.push_back(position);
        return positions;
    }

    void radix_sort() {
        const std::vector<std::size_t> positions = differing();
        std::vector<std::array<std::uint32_t, 256>> starts(positions.size());
        for (const Item& item : items_)
            for (std::size_t pass = 0; pass < positions.size(); ++pass) ++starts[pass][item.byte(positions[pass])];
        auto other_memory = std::make_unique_for_overwrite<Item[]>(count_);
        std::span<Item> other(other_memory.get(), count_);
        for (std::size_t pass = 0; pass < positions.size(); ++pass) {
            const std::size_t position = positions[pass];
            sorted_by_[position / 8] |= std::uint64_t{255} << (56 - 8 * (position % 8));
            std::uint32_t start = 0;
            for (std::uint32_t& one : starts[pass]) start += std::exchange(one, start);
            for (const Item& item : items_) other[starts[pass][item.byte(position)]++] = item;
            std::swap(items_, other);
            memory_.swap(other_memory);
        }
    }

    bool tied(const Item& a, const Item& b) const {
        std::uint64_t difference = 0;
        for (std::size_t i = 0; i < word_count; ++i) difference |= (a.words[i] ^ b.words[i]) & sorted_by_[i];
        return difference == 0;
    }

    template <class Less>
    void sort_ties(Less less) {
        for (std::size_t begin = 0, end = 0; begin < items_.size(); begin = end) {
            end = begin + 1;
            while (end < items_.size() && tied(items_[begin], items_[end])) ++end;
            const auto from = items_.begin() + static_cast<std::ptrdiff_t>(begin);
            const auto to = items_.begin() + static_cast<std::ptrdiff_t>(end);
            if (end - begin > 1 && !std::is_sorted(from, to, less)) std::sort(from, to, less);
        }
    }

    const std::string& arena_;
    std::size_t count_;
    KeyShape shape_;
    std::vector<std::uint8_t> silent_;  // positions taken to be equal in all keys
    bool shape_fits_ = true;
    std::array<std::uint64_t, word_count> sorted_by_{};  // a mask
    std::unique_ptr<Item[]> memory_;
    std::span<Item> items_;  // in it
};

void append_size(std::string& out, std::size_t size) {
    while (size >= 128) {
        out += static_cast<char>(size | 128);
        size >>= 7;
    }
    out += static_cast<char>(size);
}

}  // namespace

PairView read_pair(const char* at) {
    const std::uint32_t key = read_size(at);
    const std::uint32_t value = read_size(at);
    return {{at, key}, {at + key, value}, at + key + value};
}

void PairChunk::add(std::string_view key, std::string_view value) {
    append_size(arena_, key.size());
    append_size(arena_, value.size());
    arena_.append(key);
    arena_.append(value);
    ++count_;
}

void PairChunk::sort(const KeyShape& shape) {
    if (!empty()) order_ = Sorter(arena_, count_, shape).order();
}

}  // namespace saggar
