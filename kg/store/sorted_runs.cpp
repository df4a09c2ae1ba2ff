#include "kg/store/sorted_runs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <queue>

#include "kg/model/fault.h"

namespace saggar {
namespace {

constexpr std::size_t head_bytes = 8;  // key size and value size, 4 bytes each

std::uint64_t word_of(std::string_view key, std::size_t from) {
    std::uint64_t word = 0;
    for (std::size_t i = from; i < from + 8; ++i) {
        word = (word << 8) | (i < key.size() ? static_cast<std::uint8_t>(key[i]) : 0u);
    }
    return word;
}

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

SortedRuns::SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes)
    : folder_(std::move(folder)), name_(std::move(name)), budget_(budget_bytes) {}

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
    items_.push_back(Item{word_of(key, 0), word_of(key, 8), at});
    ++count_;
}

bool SortedRuns::before(const Item& a, const Item& b) const {
    if (a.high != b.high) return a.high < b.high;
    if (a.low != b.low) return a.low < b.low;
    const int order = key_at(a.at).compare(key_at(b.at));
    return order != 0 ? order < 0 : a.at < b.at;
}

void SortedRuns::sort() {
    std::sort(items_.begin(), items_.end(), [this](const Item& a, const Item& b) { return before(a, b); });
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
            const std::string_view key = key_at(items_[i].at);
            if (i + 1 < items_.size() && key_at(items_[i + 1].at) == key) continue;  // a later pair wins
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
