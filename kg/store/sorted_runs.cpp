#include "kg/store/sorted_runs.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstring>

#include "kg/model/fault.h"
#include "kg/store/background.h"

namespace saggar {
namespace {

constexpr std::size_t write_at_a_time = 1 << 20;
// A chunk no larger than this stays in the processor's cache while it is sorted (measured: twice as fast as 30 MiB).
constexpr std::size_t cache_sized = 8 << 20;
// Of all spilled runs in memory while they are merged, twice; of one of them.
constexpr std::size_t merge_bytes = 6 << 20;
constexpr std::size_t least_part = 16 << 10;
constexpr std::size_t largest_part = 512 << 10;
// A chunk that outgrows this gets all its memory at once; most changes stay below.
constexpr std::size_t small_chunk = 64 << 10;

[[noreturn]] void spill_failed(const std::filesystem::path& file) {
    throw StoreFault("cannot write " + file.string() + " (is the disk full?)",
                     "free some space, or set TMPDIR to a folder with more of it, and do it again; nothing of this change was kept");
}

void spill(PairChunk& chunk, const KeyShape& shape, const std::filesystem::path& path) {
    chunk.sort(shape);
    std::FILE* const file = std::fopen(path.c_str(), "wb");
    if (!file) spill_failed(path);
    std::string bytes;
    bytes.reserve(write_at_a_time + 4096);
    bool written = true;
    const auto flush = [&] {
        written = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size() && written;
        bytes.clear();
    };
    for (std::size_t i = 0; i < chunk.pairs(); ++i) {
        const char* const begin = chunk.begin_of(i);
        bytes.append(begin, read_pair(begin).end);
        if (bytes.size() >= write_at_a_time) flush();
    }
    flush();
    if (std::fclose(file) != 0 || !written) spill_failed(path);
}

// A spilled run, read a part at a time: mapped pages would count as memory until they are given back, and the larger the file, the more.
class SpilledRun {
public:
    SpilledRun(const std::filesystem::path& path, std::size_t part) : path_(path), part_(part) {
        std::error_code failed;
        left_ = std::filesystem::file_size(path, failed);
        if (failed) read_failed();
    }

    // What the last call gave still lives after this one.
    bool next(PairView& pair) {
        if (!whole_pair() && !read_on()) return false;
        pair = read_pair(at_);
        at_ = pair.end;
        return true;
    }

private:
    [[noreturn]] void read_failed() const {
        throw StoreFault("cannot read " + path_.string(), "do it again; nothing of this change was kept");
    }

    // Whether the pair at `at_` is in memory to its end.
    bool whole_pair() const {
        const auto here = static_cast<std::size_t>(end_ - at_);
        if (here >= longest_sizes) return pair_bytes(at_) <= here;
        if (here == 0 || left_ > 0) return false;
        return true;  // the last ones of the file
    }

    // Puts what is left of the part and what follows into the other buffer; false at the end of the run.
    bool read_on() {
        const auto here = static_cast<std::size_t>(end_ - at_);
        if (here == 0 && left_ == 0) return false;
        std::string& next = buffers_[1 - current_];
        next.assign(at_, here);
        // Opened each time: a large change has more runs than a process may have files open.
        const int file = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC);
        if (file < 0) read_failed();
        bool good = fill(file, next, std::max(part_, here + longest_sizes));
        if (good && !next.empty()) good = fill(file, next, pair_bytes(next.data()));
        ::close(file);
        if (!good) read_failed();
        current_ = 1 - current_;
        at_ = next.data();
        end_ = at_ + next.size();
        return true;
    }

    // Lengthens the buffer to `size`, as far as the file goes.
    bool fill(int file, std::string& buffer, std::size_t size) {
        std::size_t filled = buffer.size();
        size = static_cast<std::size_t>(std::min<std::uint64_t>(size, filled + left_));
        if (size <= filled) return true;
        buffer.resize(size);
        while (filled < size) {
            const ssize_t got = ::pread(file, buffer.data() + filled, size - filled, static_cast<off_t>(from_));
            if (got <= 0) return false;
            filled += static_cast<std::size_t>(got);
            from_ += static_cast<std::uint64_t>(got);
            left_ -= static_cast<std::uint64_t>(got);
        }
        return true;
    }

    static constexpr std::size_t longest_sizes = 10;  // of the two varints before a pair
    static std::size_t pair_bytes(const char* at) { return static_cast<std::size_t>(read_pair(at).end - at); }

    std::filesystem::path path_;
    std::size_t part_;
    std::uint64_t from_ = 0;  // in the file
    std::uint64_t left_ = 0;  // behind it
    std::string buffers_[2];
    int current_ = 0;
    const char* at_ = nullptr;
    const char* end_ = nullptr;
};

// The next pair of a run, with the first bytes of its key beside it: most comparisons end there.
struct Head {
    std::uint64_t first = 0;  // bytes 1 to 8 of the key, big-endian
    std::size_t run = 0;
    PairView pair;

    void take(const PairView& next) {
        pair = next;
        char bytes[8] = {};
        if (pair.key.size() > 1) std::memcpy(bytes, pair.key.data() + 1, std::min<std::size_t>(8, pair.key.size() - 1));
        first = 0;
        for (const char byte : bytes) first = (first << 8) | static_cast<std::uint8_t>(byte);
    }
    bool before(const Head& other) const {
        if (!pair.key.empty() && !other.pair.key.empty() && pair.key[0] == other.pair.key[0] && first != other.first)
            return first < other.first;
        const int order = pair.key.compare(other.pair.key);
        return order != 0 ? order < 0 : run < other.run;
    }
};

// Puts the head at `at` where it belongs: a heap whose first one is the least.
void sift_down(std::vector<Head>& heads, std::size_t at) {
    const Head moving = heads[at];
    for (std::size_t child = 2 * at + 1; child < heads.size(); child = 2 * at + 1) {
        if (child + 1 < heads.size() && heads[child + 1].before(heads[child])) ++child;
        if (!heads[child].before(moving)) break;
        heads[at] = heads[child];
        at = child;
    }
    heads[at] = moving;
}

}  // namespace

SortedRuns::SortedRuns(std::filesystem::path folder, std::string name, std::size_t budget_bytes, KeyShape shape,
                       Background* helper, std::function<void(const PairChunk&)> look)
    : folder_(std::move(folder)), name_(std::move(name)),
      // One chunk is filled while others wait and are sorted; sorting takes about as much again.
      chunk_bytes_(std::min<std::size_t>(helper ? budget_bytes / 4 : budget_bytes / 2, cache_sized)),
      shape_(std::move(shape)), helper_(helper), look_(std::move(look)),
      chunk_(std::make_unique<PairChunk>()) {}

SortedRuns::~SortedRuns() {
    std::error_code ignored;
    for (const auto& path : spilled_) std::filesystem::remove(path, ignored);
}

void SortedRuns::add(std::string_view key, std::string_view value) {
    if (!chunk_->empty() && chunk_->bytes() + key.size() + value.size() + 10 > chunk_bytes_) hand_over();
    if (chunk_->bytes() > small_chunk) chunk_->reserve(chunk_bytes_);
    chunk_->add(key, value);
    ++count_;
}

void SortedRuns::hand_over() {
    std::error_code failed;
    if (spilled_.empty()) std::filesystem::create_directories(folder_, failed);
    if (failed) spill_failed(folder_);
    spilled_.push_back(folder_ / fmt::format("{}-{}.run", name_, spilled_.size()));
    const std::shared_ptr<PairChunk> full = std::move(chunk_);
    chunk_ = std::make_unique<PairChunk>();
    const auto job = [full, shape = shape_, path = spilled_.back(), look = look_] {
        if (look) look(*full);
        spill(*full, shape, path);
    };
    if (!helper_) return job();
    last_job_ = helper_->give(job, full->bytes());
}

void SortedRuns::show_rest() {
    if (!look_ || chunk_->empty()) return;
    if (!helper_) return look_(*chunk_);
    last_job_ = helper_->give([this] { look_(*chunk_); }, chunk_->bytes());
}

void SortedRuns::merge(const std::function<void(std::string_view, std::string_view)>& visit) {
    if (helper_) helper_->wait_for(last_job_);
    chunk_->sort(shape_);
    std::size_t taken = 0;
    const auto next_in_memory = [&](PairView& pair) {
        if (taken == chunk_->pairs()) return false;
        pair = chunk_->at(taken++);
        return true;
    };
    std::vector<std::unique_ptr<SpilledRun>> runs;
    const std::size_t part = std::clamp(merge_bytes / std::max<std::size_t>(1, spilled_.size()), least_part, largest_part);
    for (const auto& path : spilled_) runs.push_back(std::make_unique<SpilledRun>(path, part));
    const auto next = [&](std::size_t run, PairView& pair) {
        return run < runs.size() ? runs[run]->next(pair) : next_in_memory(pair);
    };
    std::vector<Head> heads;
    for (std::size_t run = 0; run <= runs.size(); ++run) {
        Head head;
        head.run = run;
        PairView pair;
        if (!next(run, pair)) continue;
        head.take(pair);
        heads.push_back(head);
    }
    for (std::size_t at = heads.size(); at-- > 0;) sift_down(heads, at);
    PairView held;
    bool holding = false;
    while (!heads.empty()) {
        if (holding && held.key != heads[0].pair.key) visit(held.key, held.value);
        held = heads[0].pair;  // of equal keys the later run's comes later
        holding = true;
        PairView pair;
        if (next(heads[0].run, pair)) {
            heads[0].take(pair);
        } else {
            heads[0] = heads.back();
            heads.pop_back();
        }
        if (heads.size() > 1) sift_down(heads, 0);
    }
    if (holding) visit(held.key, held.value);
    chunk_ = std::make_unique<PairChunk>();  // what was merged is not needed again
    for (const auto& path : spilled_) std::filesystem::remove(path);
    spilled_.clear();
}

}  // namespace saggar
