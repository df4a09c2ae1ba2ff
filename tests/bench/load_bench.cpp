#include <rocksdb/sst_file_writer.h>

#include <memory>
#include <mutex>
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
    std::size_t pairs = 0;
};

void write_table(const Family& family, const std::string& path, const rocksdb::Options& options) {
    rocksdb::SstFileWriter writer(rocksdb::EnvOptions(), options);
    require(writer.Open(path), "write a table file");
    const char* at = family.bytes.data();
    const char* const end = at + family.bytes.size();
    while (at < end) {
        std::uint32_t lengths[2];
        std::memcpy(lengths, at, sizeof lengths);
        at += sizeof lengths;
        require(writer.Put({at, lengths[0]}, {at + lengths[0], lengths[1]}), "write a table file");
        at += lengths[0] + lengths[1];
    }
    require(writer.Finish(), "write a table file");
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
    std::vector<Family> families;
    {
        const auto database = open_database(folder, false, false);
        const auto cursor = database->scan("");
        for (; cursor->Valid(); cursor->Next()) {
            const rocksdb::Slice key = cursor->key(), value = cursor->value();
            if (families.empty() || families.back().letter != key[0]) families.push_back({key[0], {}, 0});
            const std::uint32_t lengths[2] = {static_cast<std::uint32_t>(key.size()), static_cast<std::uint32_t>(value.size())};
            Family& family = families.back();
            family.bytes.append(reinterpret_cast<const char*>(lengths), sizeof lengths);
            family.bytes.append(key.data(), key.size()).append(value.data(), value.size());
            ++family.pairs;
        }
        require(cursor->status(), "read the graph");
    }
    std::size_t pairs = 0, bytes = 0;
    for (const Family& family : families) {
        pairs += family.pairs;
        bytes += family.bytes.size();
    }
    std::sort(families.begin(), families.end(), [](const Family& a, const Family& b) { return a.bytes.size() > b.bytes.size(); });
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
            {
                const std::lock_guard lock(guard);
                if (next == families.size()) return;
                mine = next++;
                paths.push_back((scratch / fmt::format("{}.sst", mine)).string());
            }
            write_table(families[mine], (scratch / fmt::format("{}.sst", mine)).string(), options);
        }
    };
    std::thread second(work);
    work();
    second.join();
    rocksdb::IngestExternalFileOptions ingest;
    ingest.move_files = true;
    ingest.write_global_seqno = false;
    require(db->IngestExternalFile(paths, ingest), "take in the table files");
    return {{"seconds", watch.seconds()}, {"processor_seconds", processor_seconds() - before}, {"pairs", static_cast<double>(pairs)}, {"mib", static_cast<double>(bytes) / (1 << 20)}};
}

}  // namespace saggar::bench
