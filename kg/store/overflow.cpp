#include "kg/store/overflow.h"

#include <rocksdb/cache.h>
#include <rocksdb/filter_policy.h>
#include <rocksdb/table.h>

#include "kg/store/database.h"

namespace saggar {
namespace {

constexpr std::size_t batch_bytes = 1 << 20;

rocksdb::Options overflow_options() {
    rocksdb::Options options = tuned_options();
    options.create_if_missing = true;
    options.write_buffer_size = 2 << 20;
    options.level0_file_num_compaction_trigger = 8;
    options.target_file_size_base = 8 << 20;
    options.compression = rocksdb::kNoCompression;
    options.bottommost_compression = rocksdb::kNoCompression;
    rocksdb::BlockBasedTableOptions table;
    table.block_cache = rocksdb::NewLRUCache(3 << 20);
    table.filter_policy.reset(rocksdb::NewBloomFilterPolicy(10, false));
    table.format_version = 5;
    table.cache_index_and_filter_blocks = true;
    table.index_type = rocksdb::BlockBasedTableOptions::kTwoLevelIndexSearch;
    table.partition_filters = true;
    options.table_factory.reset(rocksdb::NewBlockBasedTableFactory(table));
    return options;
}

rocksdb::WriteOptions unlogged() {
    rocksdb::WriteOptions options;
    options.disableWAL = true;
    return options;
}

}  // namespace

Overflow::Overflow(std::filesystem::path folder) : folder_(std::move(folder)) {}

Overflow::~Overflow() {
    if (!db_) return;
    db_.reset();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

void Overflow::open() {
    std::filesystem::create_directories(folder_);
    rocksdb::DB* raw = nullptr;
    require(rocksdb::DB::Open(overflow_options(), folder_.string(), &raw), "make a scratch database");
    db_.reset(raw);
    waiting_ = std::make_unique<rocksdb::WriteBatch>();
}

void Overflow::put(std::string_view key, std::string_view value) {
    if (!db_) open();
    require(waiting_->Put(slice(key), slice(value)), "write to a scratch database");
    if (waiting_->GetDataSize() > batch_bytes) flush();
}

void Overflow::flush() {
    if (!db_ || waiting_->Count() == 0) return;
    require(db_->Write(unlogged(), waiting_.get()), "write to a scratch database");
    waiting_->Clear();
}

std::optional<std::string> Overflow::get(std::string_view key) const {
    if (!db_) return std::nullopt;
    std::string value;
    const rocksdb::Status status = db_->Get(rocksdb::ReadOptions(), slice(key), &value);
    if (status.IsNotFound()) return std::nullopt;
    require(status, "read a scratch database");
    return value;
}

void Overflow::remove(std::string_view key) {
    if (db_) require(db_->Delete(unlogged(), slice(key)), "write to a scratch database");
}

void Overflow::each(std::string_view begin, std::string_view end, const std::function<void(std::string_view, std::string_view)>& visit) const {
    if (!db_) return;
    rocksdb::ReadOptions options;
    options.fill_cache = false;
    const std::unique_ptr<rocksdb::Iterator> at(db_->NewIterator(options));
    for (at->Seek(slice(begin)); at->Valid() && view(at->key()) < end; at->Next()) visit(view(at->key()), view(at->value()));
    require(at->status(), "read a scratch database");
}

void Overflow::remove_space(char space) {
    if (!db_) return;
    const std::string begin(1, space);
    const std::string end(1, static_cast<char>(space + 1));
    require(db_->DeleteRange(unlogged(), db_->DefaultColumnFamily(), begin, end), "write to a scratch database");
}

}  // namespace saggar
