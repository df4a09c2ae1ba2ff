#include "kg/store/sorted_runs.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <queue>

#include "kg/model/fault.h"

namespace saggar {
namespace {

constexpr std::size_t telling_bytes = 16;
constexpr std::size_t fetch_ahead = 12;  // pairs; the arena is read out of order, so its lines are asked for early
constexpr std::size_t head_bytes = 8;    // key size and value size, 4 bytes each

std::uint32_t size_at(const char* bytes) {
    std::uint32_t size;
    std::memcpy(&size, bytes, sizeof size);
    return size;
}

[[noreturn]] void spill_failed(const std::filesystem::path& file) {
    throw StoreFault("cannot write " + file.string() + " (is the disk full?)",
                     "free some space and do it again; nothing of this change was kept");
}

}  // namespace

// One spilled run, read back in order.
class SortedRuns::Run {
public:
    explicit Run(const std::filesystem::path& path) : file_(std::fopen(path.c_str(), "rb")) {
        if (!file_) throw StoreFault("cannot read " + path.string(), "do it again; nothing of this change was kept");
        std::setvbuf(file_, nullptr, _IOFBF, 1 << 20);
    }
    ~Run() { std::fclose(file_); }
    Run(const Run&) = delete;
    Run& operator=(const Run&) = delete;

    bool next() {
        char head[head_bytes];
        if (std::fread(head, 1, head_bytes, file_) != head_bytes) return false;
        key.resize(size_at(head));
        value.resize(size_at(head + 4));
        return std::fread(key.data(), 1, key.size(), file_) == key.size() &&
               std::fread(value.data(), 1, value.size(), file_) == value.size();
    }
    std::string key;
    std::string value;

private:
    std::FILE* file_;
};

SortedRuns::SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes, KeyShape shape)
    : folder_(std::move(folder)), name_(std::move(name)), budget_(budget_bytes), shape_(std::move(shape)) {
    if (shape_.telling.empty()) {
        for (std::uint8_t i = 0; i < telling_bytes; ++i) shape_.telling.push_back(i);
    }
    for (std::uint8_t i = 0; i < shape_.telling.back(); ++i) {
        if (!std::binary_search(shape_.telling.begin(), shape_.telling.end(), i)) silent_.push_back(i);
    }
}

SortedRuns::~SortedRuns() {
    std::error_code ignored;
    for (const auto& path : spilled_) std::filesystem::remove(path, ignored);
}

std::string_view SortedRuns::key_at(std::uint64_t at) const {
    return {arena_.data() + at + head_bytes, size_at(arena_.data() + at)};
}

std::string_view SortedRuns::value_at(std::uint64_t at) const {
    const char* head = arena_.data() + at;
    return {head + head_bytes + size_at(head), size_at(head + 4)};
}

void SortedRuns::add(std::string_view key, std::string_view value) {
    const std::size_t needed = head_bytes + key.size() + value.size();
    if (!items_.empty() && arena_.size() + needed + (items_.size() + 1) * sizeof(Item) > budget_) spill();
    const std::uint64_t at = arena_.size();
    const auto key_size = static_cast<std::uint32_t>(key.size());
    const auto value_size = static_cast<std::uint32_t>(value.size());
    arena_.append(reinterpret_cast<const char*>(&key_size), 4);
    arena_.append(reinterpret_cast<const char*>(&value_size), 4);
    arena_.append(key);
    arena_.append(value);
    Item item = item_of(key);
    item.at = at;
    items_.push_back(item);
    ++count_;
}

SortedRuns::Item SortedRuns::item_of(std::string_view key) {
    const auto byte = [&](std::uint8_t position) {
        return position < key.size() ? static_cast<std::uint8_t>(key[position]) : 0u;
    };
    if (silent_bytes_.empty()) {
        for (const std::uint8_t position : silent_) silent_bytes_ += static_cast<char>(byte(position));
    }
    for (std::size_t i = 0; i < silent_.size(); ++i) {
        shape_fits_ = shape_fits_ && byte(silent_[i]) == static_cast<std::uint8_t>(silent_bytes_[i]);
    }
    Item item;
    std::size_t taken = 0;
    for (const std::uint8_t position : shape_.telling) {
        std::uint64_t& word = taken < 8 ? item.high : item.low;
        word |= std::uint64_t{byte(position)} << (56 - 8 * (taken % 8));
        ++taken;
    }
    return item;
}

bool SortedRuns::same_key(const Item& a, const Item& b) const {
    return a.high == b.high && a.low == b.low && key_at(a.at) == key_at(b.at);
}

std::size_t SortedRuns::byte_of(const Item& item, int position) {
    return ((position >= 8 ? item.high : item.low) >> (8 * (position % 8))) & 255;
}

bool SortedRuns::before(const Item& a, const Item& b) const {
    if (shape_fits_) {
        if (a.high != b.high) return a.high < b.high;
        if (a.low != b.low) return a.low < b.low;
    }
    const int order = key_at(a.at).compare(key_at(b.at));
    return order != 0 ? order < 0 : a.at < b.at;
}

// Radix sort on the telling bytes that differ at all, then the few runs that are still tied are put in order.
void SortedRuns::sort() {
    if (!shape_fits_) return sort_by_comparing();
    const std::vector<int> positions = differing_bytes();
    std::uint64_t high_mask = 0;
    std::uint64_t low_mask = 0;
    std::vector<Item> other(items_.size());
    for (auto position = positions.rbegin(); position != positions.rend(); ++position) {
        (*position >= 8 ? high_mask : low_mask) |= std::uint64_t{255} << (8 * (*position % 8));
        std::array<std::size_t, 257> starts{};
        for (const Item& item : items_) ++starts[byte_of(item, *position) + 1];
        for (std::size_t i = 1; i < starts.size(); ++i) starts[i] += starts[i - 1];
        for (const Item& item : items_) other[starts[byte_of(item, *position)]++] = item;
        items_.swap(other);
    }
    const auto tied = [&](const Item& a, const Item& b) {
        return ((a.high ^ b.high) & high_mask) == 0 && ((a.low ^ b.low) & low_mask) == 0;
    };
    const auto less = [this](const Item& a, const Item& b) { return before(a, b); };
    for (std::size_t begin = 0, end = 0; begin < items_.size(); begin = end) {
        end = begin + 1;
        while (end < items_.size() && tied(items_[begin], items_[end])) ++end;
        const auto from = items_.begin() + static_cast<std::ptrdiff_t>(begin);
        const auto to = items_.begin() + static_cast<std::ptrdiff_t>(end);
        if (end - begin > 1 && !std::is_sorted(from, to, less)) std::sort(from, to, less);
    }
}

void SortedRuns::sort_by_comparing() {
    std::sort(items_.begin(), items_.end(), [this](const Item& a, const Item& b) { return before(a, b); });
}

// Which of the telling bytes (15: the first of them) differ between keys, the most significant first, as many as are worth a pass.
std::vector<int> SortedRuns::differing_bytes() const {
    std::uint64_t high = 0;
    std::uint64_t low = 0;
    for (const Item& item : items_) {
        high |= item.high ^ items_.front().high;
        low |= item.low ^ items_.front().low;
    }
    std::vector<int> positions;
    for (int position = 15; position >= 0 && positions.size() < shape_.radix_bytes; --position) {
        const std::uint64_t word = position >= 8 ? high : low;
        if ((word >> (8 * (position % 8))) & 255) positions.push_back(position);
    }
    return positions;
}

void SortedRuns::spill() {
    sort();
    std::filesystem::create_directories(folder_);
    const auto path = folder_ / fmt::format("{}-{}.run", name_, spilled_.size());
    spilled_.push_back(path);
    std::FILE* file = std::fopen(path.c_str(), "wb");
    if (!file) spill_failed(path);
    std::setvbuf(file, nullptr, _IOFBF, 1 << 20);
    bool written = true;
    for (const Item& item : items_) {
        const char* from = arena_.data() + item.at;
        const std::size_t size = head_bytes + size_at(from) + size_at(from + 4);
        written = std::fwrite(from, 1, size, file) == size && written;
    }
    if (std::fclose(file) != 0 || !written) spill_failed(path);
    arena_.clear();
    items_.clear();
}

void SortedRuns::merge(const std::function<void(std::string_view, std::string_view)>& visit) {
    if (spilled_.empty()) {
        sort();
        for (std::size_t i = 0; i < items_.size(); ++i) {
            if (i + fetch_ahead < items_.size()) __builtin_prefetch(arena_.data() + items_[i + fetch_ahead].at);
            const std::string_view key = key_at(items_[i].at);
            if (i + 1 < items_.size() && same_key(items_[i], items_[i + 1])) continue;  // a later pair wins
            visit(key, value_at(items_[i].at));
        }
        return;
    }
    if (!items_.empty()) spill();
    std::vector<std::unique_ptr<Run>> runs;
    const auto later = [&runs](std::size_t a, std::size_t b) {
        const int order = runs[a]->key.compare(runs[b]->key);
        return order != 0 ? order > 0 : a > b;
    };
    std::priority_queue<std::size_t, std::vector<std::size_t>, decltype(later)> heads(later);
    for (std::size_t i = 0; i < spilled_.size(); ++i) {
        runs.push_back(std::make_unique<Run>(spilled_[i]));
        if (runs.back()->next()) heads.push(i);
    }
    std::string key;
    std::string value;
    bool holding = false;
    while (!heads.empty()) {
        const std::size_t first = heads.top();
        heads.pop();
        if (holding && runs[first]->key != key) visit(key, value);
        key.swap(runs[first]->key);
        value.swap(runs[first]->value);
        holding = true;
        if (runs[first]->next()) heads.push(first);
    }
    if (holding) visit(key, value);
}

}  // namespace saggar
