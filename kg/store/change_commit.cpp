// Writing a change: one synced batch where it is small, table files ingested in one atomic step where it is large.
#include <fmt/format.h>
#include <rocksdb/sst_file_writer.h>

#include <condition_variable>
#include <exception>
#include <functional>
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

std::size_t pairs_in(const Change::State::Families& families) {
    std::size_t pairs = 0;
    for (const auto& family : families) pairs += family.second->size();
    return pairs;
}

void write_batch(Change::State& state) {
    rocksdb::WriteBatch batch;
    for (const Change::State::Families& families : {state.own_families(), state.derived_families()})
        for (const auto& [family, pairs] : families)
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

// Writes families of keys as table files with two threads; keeps the first exception.
class TableWriters {
public:
    TableWriters(const rocksdb::Options& options, const std::filesystem::path& folder)
        : options_(options), folder_(folder) {}

    // `own` are whole but for what the sorting thread has yet to sort of them; the second thread waits for `derived` meanwhile.
    std::vector<std::string> run(Change::State::Families own, const std::function<Change::State::Families()>& derived) {
        work_ = std::move(own);
        order_work();
        std::thread second([&] {
            try {
                add_work(derived());
            } catch (...) {
                fail();
            }
            take_work();
        });
        take_work();
        second.join();
        if (failure_) std::rethrow_exception(failure_);
        std::sort(paths_.begin(), paths_.end());
        return paths_;
    }

private:
    // The largest first, so that two threads end at about the same time; but before all is there the smallest first, for of the
    // largest the last part is still being sorted.
    void order_work() {
        std::sort(work_.begin(), work_.end(),
                  [](const auto& a, const auto& b) { return a.second->size() < b.second->size(); });
    }
    void add_work(const Change::State::Families& more) {
        const std::lock_guard lock(guard_);
        work_.insert(work_.end(), more.begin(), more.end());
        order_work();
        complete_ = true;
        changed_.notify_all();
    }
    void fail() {
        const std::lock_guard lock(guard_);
        if (!failure_) failure_ = std::current_exception();
        changed_.notify_all();
    }

    void take_work() {
        for (;;) {
            std::pair<char, SortedRuns*> job;
            {
                std::unique_lock lock(guard_);
                changed_.wait(lock, [this] { return complete_ || !work_.empty() || failure_; });
                if (work_.empty() || failure_) return;
                const auto at = complete_ ? work_.end() - 1 : work_.begin();
                job = *at;
                work_.erase(at);
            }
            const std::string path = (folder_ / fmt::format("family-{}.sst", job.first)).string();
            try {
                write_table(options_, *job.second, path);
                const std::lock_guard lock(guard_);
                paths_.push_back(path);
            } catch (...) {
                fail();
            }
        }
    }

    const rocksdb::Options& options_;
    std::filesystem::path folder_;
    std::mutex guard_;
    std::condition_variable changed_;
    Change::State::Families work_;
    bool complete_ = false;
    std::vector<std::string> paths_;
    std::exception_ptr failure_;
};

void ingest_tables(Change::State& state) {
    std::filesystem::create_directories(state.incoming);
    const rocksdb::Options options = tuned_options();
    const std::vector<std::string> paths = 
        TableWriters(options, state.incoming).run(state.own_families(), [&] { return state.derived_families(); });
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
    close_indexes();
    const std::size_t own = pairs_in(own_families());
    if (own <= head.bulk_above && own + pairs_in(derived_families()) <= head.bulk_above) {
        write_batch(*this);
    } else {
        ingest_tables(*this);
    }
    return entry;
}

}  // namespace saggar
