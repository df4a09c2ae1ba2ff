#include "kg/store/database.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <rocksdb/cache.h>
#include <rocksdb/env.h>
#include <rocksdb/filter_policy.h>
#include <rocksdb/table.h>
#include <unistd.h>

#include <chrono>
#include <thread>

#include "kg/model/fault.h"
#include "kg/store/codec.h"
#include "kg/store/table_families.h"

namespace saggar {
namespace {

// RocksDB's own log says nothing a researcher can use; errors come back as statuses.
class SilentLogger : public rocksdb::Logger {
public:
    using rocksdb::Logger::Logv;
    void Logv(const char*, va_list) override {}
};

// The process that holds the write lock of the database; 0 where none does.
// Asked before opening, because a failed open disturbs the writer's files.
pid_t lock_holder(const std::filesystem::path& db) {
    const int file = ::open((db / "LOCK").c_str(), O_RDONLY);
    if (file < 0) return 0;
    struct flock lock {};
    lock.l_type = F_WRLCK;
    lock.l_whence = SEEK_SET;
    const int answer = ::fcntl(file, F_GETLK, &lock);
    ::close(file);
    return answer == 0 && lock.l_type != F_UNLCK ? lock.l_pid : 0;
}

std::filesystem::path scratch_folder() {
    std::string name = (std::filesystem::temp_directory_path() / "saggar-reader-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
        throw StoreFault("cannot make a temporary folder in " + std::filesystem::temp_directory_path().string(),
                         "set TMPDIR to a folder you may write to");
    return name;
}

void open_secondary(Database& database, const std::filesystem::path& db) {
    rocksdb::Options options = tuned_options();
    options.create_if_missing = false;
    options.max_open_files = -1;  // with a limit, files the writer removes cause read errors (measured)
    database.scratch = scratch_folder();
    database.secondary = true;
    rocksdb::DB* raw = nullptr;
    rocksdb::Status status;
    for (int attempt = 0; attempt < 20; ++attempt) {
        status = rocksdb::DB::OpenAsSecondary(options, db.string(), database.scratch.string(), &raw);
        if (status.ok()) break;
        std::this_thread::sleep_for(std::chrono::milliseconds(25));
    }
    require(status, "open the graph for reading");
    database.db.reset(raw);
    require(database.db->TryCatchUpWithPrimary(), "catch up with the writing process");
}

}  // namespace

void require(const rocksdb::Status& status, std::string_view doing) {
    if (status.ok()) return;
    if (status.IsIOError() && status.subcode() == rocksdb::Status::kNoSpace)
        throw StoreFault(fmt::format("cannot {}: the disk is full", doing),
                         "free some space and do it again; nothing of this change was kept");
    if (status.IsCorruption())
        throw StoreFault(fmt::format("cannot {}: the graph is damaged ({})", doing, status.ToString()),
                         "keep a copy of the folder, then restore the last backup with `saggar restore`");
    throw StoreFault(fmt::format("cannot {}: {}", doing, status.ToString()),
                     "see that the folder is there and that you may write to it");
}

Database::~Database() {
    db.reset();
    if (!scratch.empty()) {
        std::error_code ignored;
        std::filesystem::remove_all(scratch, ignored);
    }
}

std::optional<std::string> Database::get(std::string_view key) const {
    std::string value;
    const rocksdb::Status status = db->Get(rocksdb::ReadOptions(), slice(key), &value);
    if (status.IsNotFound()) return std::nullopt;
    require(status, "read the graph");
    return value;
}

std::uint64_t Database::number(std::string_view setting) const {
    const auto value = get("m" + std::string(setting));
    return value ? Bytes(*value).varint() : 0;
}

std::unique_ptr<rocksdb::Iterator> Database::scan(std::string_view prefix) const {
    std::unique_ptr<rocksdb::Iterator> cursor(db->NewIterator(prefix.empty() ? rocksdb::ReadOptions() : within_family(prefix[0])));
    cursor->Seek(slice(prefix));
    return cursor;
}

// A small embedded store on two cores: few files, little memory, no background chatter.
rocksdb::Options tuned_options() {
    rocksdb::Options options;
    options.write_buffer_size = 8 << 20;
    options.max_write_buffer_number = 2;
    options.max_total_wal_size = 32 << 20;
    options.max_manifest_file_size = 4 << 20;
    options.keep_log_file_num = 2;
    options.stats_dump_period_sec = 0;
    options.stats_persist_period_sec = 0;
    options.max_background_jobs = 2;
    options.max_open_files = -1;
    options.target_file_size_base = 64 << 20;
    options.compression = rocksdb::kLZ4Compression;
    options.bottommost_compression = rocksdb::kLZ4Compression;
    options.info_log = std::make_shared<SilentLogger>();
    options.table_properties_collector_factories.push_back(family_marks());
    rocksdb::BlockBasedTableOptions table;
    static const std::shared_ptr<rocksdb::Cache> cache = rocksdb::NewLRUCache(128 << 20);
    table.block_cache = cache;
    table.filter_policy.reset(rocksdb::NewBloomFilterPolicy(10, false));
    table.format_version = 5;
    table.block_size = 8 << 10;
    // Indexes and filters are read when needed: a command that asks one thing of a large graph opens at once. (Indexes in parts
    // would save a millisecond there at a million claims, and cost a tenth of every jump.)
    table.cache_index_and_filter_blocks = true;
    options.table_factory.reset(rocksdb::NewBlockBasedTableFactory(table));
    return options;
}

std::shared_ptr<Database> open_database(const std::filesystem::path& folder, bool write, bool create) {
    const std::filesystem::path db = folder / "db";
    const bool there = std::filesystem::exists(db / "CURRENT");
    if (create && there)
        throw StoreFault(folder.string() + " holds a graph already",
                         "choose another folder with --graph, or go on with this one");
    if (!create && !there)
        throw StoreFault("there is no graph in " + folder.string(),
                         "make one with `saggar start`, or name its folder with --graph or SAGGAR_GRAPH");
    auto database = std::make_shared<Database>();
    database->folder = folder;
    const pid_t holder = there ? lock_holder(db) : 0;
    if (write) {
        if (holder)
            throw InUse(fmt::format("the graph {} is in use by process {}", folder.string(), holder),
                        "wait until that process has ended; reading is possible meanwhile");
        rocksdb::Options options = tuned_options();
        options.create_if_missing = create;
        rocksdb::DB* raw = nullptr;
        const rocksdb::Status status = rocksdb::DB::Open(options, db.string(), &raw);
        if (status.IsIOError() && status.ToString().find("lock") != std::string::npos) {
            throw InUse(fmt::format("the graph {} is in use by another process", folder.string()),
                        "wait until that process has ended; reading is possible meanwhile");
        }
        require(status, "open the graph");
        database->db.reset(raw);
        database->writable = true;
        return database;
    }
    if (holder) {
        open_secondary(*database, db);
        return database;
    }
    rocksdb::DB* raw = nullptr;
    const rocksdb::Status status = rocksdb::DB::OpenForReadOnly(tuned_options(), db.string(), &raw);
    if (status.ok()) {
        database->db.reset(raw);
    } else if (lock_holder(db)) {  // a writer came between
        open_secondary(*database, db);
    } else {
        require(status, "open the graph for reading");
    }
    return database;
}

}  // namespace saggar
