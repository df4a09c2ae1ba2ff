#include <rocksdb/sst_file_writer.h>

#include <algorithm>
#include <memory>
#include <mutex>
#include <random>
#include <stdexcept>
#include <thread>
#include <vector>

#include "kg/store/database.h"
#include "kg/store/store.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

std::uint64_t folder_bytes(const std::filesystem::path& folder) {
    std::uint64_t bytes = 0;
    for (const auto& file : std::filesystem::recursive_directory_iterator(folder))
        if (file.is_regular_file()) bytes += file.file_size();
    return bytes;
}

// Pairs of one family of keys, one after the other: lengths, key, value.
struct Family {
    char letter = 0;
    std::string bytes;
    std::vector<std::uint64_t> starts;  // of the pairs; put out of order for the measurement that sorts
};

struct Pair {
    rocksdb::Slice key, value;
};
Pair pair_at(const Family& family, std::uint64_t start) {
    const char* at = family.bytes.data() + start;
    std::uint32_t lengths[2];
    std::memcpy(lengths, at, sizeof lengths);
    at += sizeof lengths;
    return {{at, lengths[0]}, {at + lengths[0], lengths[1]}};
}

void write_table(const Family& family, const std::string& path, const rocksdb::Options& options) {
    rocksdb::SstFileWriter writer(rocksdb::EnvOptions(), options);
    require(writer.Open(path), "write a table file");
    for (const std::uint64_t start : family.starts) {
        const Pair pair = pair_at(family, start);
        require(writer.Put(pair.key, pair.value), "write a table file");
    }
    require(writer.Finish(), "write a table file");
}

void sort_pairs(Family& family) {
    std::sort(family.starts.begin(), family.starts.end(), [&](std::uint64_t a, std::uint64_t b) {
        return pair_at(family, a).key.compare(pair_at(family, b).key) < 0;
    });
}

// All pairs of the graph, in order, the largest family first.
std::vector<Family> read_families(const std::filesystem::path& folder) {
    std::vector<Family> families;
    const auto database = open_database(folder, false, false);
    const auto cursor = database->scan("");
    for (; cursor->Valid(); cursor->Next()) {
        const rocksdb::Slice key = cursor->key(), value = cursor->value();
        if (families.empty() || families.back().letter != key[0]) families.push_back({key[0], {}, {}});
        const std::uint32_t lengths[2] = {static_cast<std::uint32_t>(key.size()), static_cast<std::uint32_t>(value.size())};
        Family& family = families.back();
        family.starts.push_back(family.bytes.size());
        family.bytes.append(reinterpret_cast<const char*>(lengths), sizeof lengths);
        family.bytes.append(key.data(), key.size()).append(value.data(), value.size());
    }
    require(cursor->status(), "read the graph");
    std::sort(families.begin(), families.end(), [](const Family& a, const Family& b) { return a.bytes.size() > b.bytes.size(); });
    return families;
}

// Writes table files and ingests them; gives clock and processor seconds.
std::pair<double, double> ingest(std::vector<Family>& families, const std::filesystem::path& scratch, unsigned threads, bool sort_first) {
    std::filesystem::create_directories(scratch);
    rocksdb::Options options = tuned_options();
    options.create_if_missing = true;
    rocksdb::DB* opened = nullptr;
    require(rocksdb::DB::Open(options, (scratch / "db").string(), &opened), "open a database");
    const std::unique_ptr<rocksdb::DB> db(opened);
    const Stopwatch watch;
    const double before = processor_seconds();
    std::vector<std::string> paths;
    std::mutex guard;
    std::size_t next = 0;
    const auto work = [&] {
        for (;;) {
            std::size_t mine = 0;
            std::string path;
            {
                const std::lock_guard lock(guard);
                if (next == families.size()) return;
                mine = next++;
                path = (scratch / fmt::format("{}.sst", mine)).string();
                paths.push_back(path);
            }
            if (sort_first) sort_pairs(families[mine]);
            write_table(families[mine], path, options);
        }
    };
    std::vector<std::thread> others;
    for (unsigned i = 1; i < threads; ++i) others.emplace_back(work);
    work();
    for (std::thread& other : others) other.join();
    rocksdb::IngestExternalFileOptions ingest;
    ingest.move_files = true;
    ingest.write_global_seqno = false;
    require(db->IngestExternalFile(paths, ingest), "take in the table files");
    return {watch.seconds(), processor_seconds() - before};
}

}  // namespace

Numbers make_only(std::uint64_t claims) {
    const Stopwatch watch;
    std::size_t records = 0;
    make_graph(claims, graph_seed, [&](const auto&) { ++records; });
    return {{"seconds", watch.seconds()},
            {"processor_seconds", processor_seconds()},
            {"records", static_cast<double>(records)}};
}

Numbers load(std::uint64_t claims, const std::filesystem::path& folder) {
    Store store = Store::create(folder, {"", "", "bench", "2026-01-01T00:00:00Z"});
    ChangeHead head;
    head.verb = "load";
    head.time = "2026-01-01T00:00:00Z";
    const Stopwatch watch;
    const double before = processor_seconds();
    double put = 0, all = 0;
    Entry entry;
    {
        Change change = store.begin(head);
        make_graph(claims, graph_seed, [&](const auto& record) { change.put(record); });
        put = watch.seconds();
        entry = change.commit();
        all = watch.seconds();
    }
    Numbers numbers{{"seconds", all},
                    {"put_seconds", put},
                    {"processor_seconds", processor_seconds() - before},
                    {"peak_mib", peak_mib()},
                    {"claims", static_cast<double>(entry.counts.claims)},
                    {"evidence", static_cast<double>(entry.counts.evidence)},
                    {"entities", static_cast<double>(entry.counts.entities)}};
    numbers["disk_mib"] = static_cast<double>(folder_bytes(folder)) / (1 << 20);
    return numbers;
}

Numbers raw_ingestion(const std::filesystem::path& folder, const std::filesystem::path& scratch) {
    std::vector<Family> families = read_families(folder);
    double pairs = 0, bytes = 0;
    for (const Family& family : families) {
        pairs += static_cast<double>(family.starts.size());
        bytes += static_cast<double>(family.bytes.size());
    }
    const auto one = ingest(families, scratch / "one", 1, false);
    const auto two = ingest(families, scratch / "two", 2, false);
    std::mt19937_64 random(1);
    for (Family& family : families) std::shuffle(family.starts.begin(), family.starts.end(), random);
    const auto sorting = ingest(families, scratch / "sorting", 2, true);
    return {{"seconds", two.first},
            {"processor_seconds", two.second},
            {"one_thread_seconds", one.first},
            {"sorting_seconds", sorting.first},
            {"sorting_processor_seconds", sorting.second},
            {"pairs", pairs},
            {"mib", bytes / (1 << 20)}};
}

}  // namespace saggar::bench
