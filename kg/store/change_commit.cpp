// Writing a change: one synced batch where it is small, table files ingested in one atomic step where it is large.
#include <fmt/format.h>
#include <rocksdb/sst_file_writer.h>

#include <exception>
#include <mutex>
#include <thread>

#include "kg/model/fault.h"
#include "kg/store/change_state.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

std::string varint(std::uint64_t number) {
    std::string out;
    append_varint(out, number);
    return out;
}

// The stored versions with one more.
std::string with_version(const Change::State& state, char family, std::uint64_t id, const std::string& fields) {
    Versions versions;
    if (id < state.first_new_entity || state.replaying) {
        if (const auto value = state.stored(keys::with_number(family, id))) versions = decode_versions(*value);
    }
    versions.emplace_back(state.entry.number, fields);
    return encode(versions);
}

// A description changed there and back within one entry is no change.
void drop_unchanged(const Change::State& state, char family, PendingFields& pending) {
    const std::uint64_t below = state.replaying ? state.next_entity : state.first_new_entity;
    pending.drop_if(below, [&](std::uint64_t id, const std::string& changed) {
        const auto value = state.stored(keys::with_number(family, id));
        std::string_view fields;
        return value && version_at(*value, state.entry.number, fields) && fields == changed;
    });
}

void emit_versions(Change::State& state) {
    state.entity_fields.each([&](std::uint64_t id, const std::string& fields) {
        state.emit(keys::entity(EntityId{id}), with_version(state, 'e', id, fields));
    });
    state.source_fields.each([&](std::uint64_t id, const std::string& fields) {
        state.emit(keys::source(EntityId{id}), with_version(state, 's', id, fields));
    });
}

void emit_counters(Change::State& state) {
    state.emit(keys::setting("last-entry"), varint(state.entry.number));
    state.emit(keys::setting("next-entity"), varint(state.next_entity));
    state.emit(keys::setting("next-claim"), varint(state.next_claim));
    state.emit(keys::setting("next-record"), varint(state.next_record));
    if (state.head.file_digest) state.emit(keys::file(*state.head.file_digest), varint(state.entry.number));
}

void write_batch(Change::State& state) {
    rocksdb::WriteBatch batch;
    for (const auto& [family, pairs] : state.families())
        pairs->merge([&](std::string_view key, std::string_view value) { batch.Put(slice(key), slice(value)); });
    rocksdb::WriteOptions options;
    options.sync = true;
    require(state.db->db->Write(options, &batch), "write to the graph");
}

// Writes one family of keys as a table file.
void write_table(const rocksdb::Options& options, SortedRuns& pairs, const std::string& path) {
    rocksdb::SstFileWriter writer(rocksdb::EnvOptions(), options);
    require(writer.Open(path), "write a table file");
    pairs.merge([&](std::string_view key, std::string_view value) {
        require(writer.Put(slice(key), slice(value)), "write a table file");
    });
    require(writer.Finish(), "write a table file");
}

// Takes families from a shared list until none is left; keeps the first exception.
class TableWriters {
public:
    TableWriters(const rocksdb::Options& options, const std::filesystem::path& folder)
        : options_(options), folder_(folder) {}

    std::vector<std::string> run(const std::vector<std::pair<char, SortedRuns*>>& families) {
        // The largest first, so that two threads end at about the same time.
        for (const auto& family : families) work_.emplace_back(family.second->size(), family);
        std::sort(work_.begin(), work_.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
        std::thread second([this] { take_work(); });
        take_work();
        second.join();
        if (failure_) std::rethrow_exception(failure_);
        std::sort(paths_.begin(), paths_.end());
        return paths_;
    }

private:
    void take_work() {
        for (;;) {
            std::pair<char, SortedRuns*> job;
            {
                const std::lock_guard lock(guard_);
                if (work_.empty() || failure_) return;
                job = work_.back().second;
                work_.pop_back();
            }
            const std::string path = (folder_ / fmt::format("family-{}.sst", job.first)).string();
            try {
                write_table(options_, *job.second, path);
                const std::lock_guard lock(guard_);
                paths_.push_back(path);
            } catch (...) {
                const std::lock_guard lock(guard_);
                if (!failure_) failure_ = std::current_exception();
            }
        }
    }

    const rocksdb::Options& options_;
    std::filesystem::path folder_;
    std::mutex guard_;
    std::vector<std::pair<std::size_t, std::pair<char, SortedRuns*>>> work_;
    std::vector<std::string> paths_;
    std::exception_ptr failure_;
};

void ingest_tables(Change::State& state) {
    std::filesystem::create_directories(state.incoming);
    const rocksdb::Options options = tuned_options();
    const std::vector<std::string> paths = TableWriters(options, state.incoming).run(state.families());
    rocksdb::IngestExternalFileOptions ingest;
    ingest.move_files = true;
    ingest.write_global_seqno = false;
    require(state.db->db->IngestExternalFile(paths, ingest), "take in the table files");
    std::error_code ignored;
    for (const std::string& path : paths) std::filesystem::remove(path, ignored);
}

}  // namespace

void Change::State::finish_entry() {
    drop_unchanged(*this, 'e', entity_fields);
    drop_unchanged(*this, 's', source_fields);
    entry.counts.entities = entity_fields.size();
    entry.counts.sources = source_fields.size();
    emit_versions(*this);
    emit(keys::entry(entry.number), encode(entry));
    entity_fields.clear();
    source_fields.clear();
}

Entry Change::State::commit() {
    if (spent) throw UsageFault("this change has been committed already", "begin another one");
    spent = true;
    drop_unchanged(*this, 'e', entity_fields);
    drop_unchanged(*this, 's', source_fields);
    entry.counts.entities = entity_fields.size();
    entry.counts.sources = source_fields.size();
    const bool is_empty = entry.counts.all() == 0 && !has_document && !touched;
    if (is_empty && following && entry.number > db->number("last-entry") + 1) {
        --entry.number;  // the entries before it are finished
    } else if (is_empty && (!replaying || following)) {
        const std::uint64_t last = entry.number - 1;
        if (head.file_digest && db->writable) {
            require(db->db->Put(rocksdb::WriteOptions(), keys::file(*head.file_digest), varint(last)),
                    "write to the graph");
        }
        Entry latest;
        if (const auto value = db->get(keys::entry(last))) decode(*value, latest);
        latest.number = last;
        return latest;
    }
    if (!db->writable) throw StoreFault("the graph was opened for reading only", "open it for writing");
    if (!is_empty || !following) finish_entry();
    emit_counters(*this);
    finish_indexes();
    std::size_t pairs = 0;
    for (const auto& family : families()) pairs += family.second->size();
    if (pairs <= head.bulk_above) {
        write_batch(*this);
    } else {
        ingest_tables(*this);
    }
    return entry;
}

}  // namespace saggar
