#include "kg/store/store.h"

#include <algorithm>

#include "embedded/default_profile.h"
#include "embedded/tableware_vocabulary.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

constexpr std::string_view layout_format = "3";

void must_write(const Database& database) {
    if (!database.writable) throw StoreFault("the graph was opened for reading only", "open it for writing");
}

std::string number_text(std::uint64_t number) {
    std::string out;
    append_varint(out, number);
    return out;
}

// One entry that sets documents of the graph (vocabulary, profile) and nothing else.
Entry write_documents(Database& database, const ChangeHead& head, const std::string* vocabulary,
                      const std::string* profile, rocksdb::WriteBatch& batch) {
    must_write(database);
    Entry entry;
    entry.number = database.number("last-entry") + 1;
    entry.time = head.time;
    entry.author = head.author;
    entry.verb = head.verb;
    entry.reason = head.reason;
    if (vocabulary) batch.Put(keys::vocabulary(entry.number), *vocabulary);
    if (profile) batch.Put(keys::profile(entry.number), *profile);
    batch.Put(keys::entry(entry.number), encode(entry));
    batch.Put(keys::setting("last-entry"), number_text(entry.number));
    rocksdb::WriteOptions options;
    options.sync = true;
    require(database.db->Write(options, &batch), "write to the graph");
    return entry;
}

void must_be_sound(const std::string& vocabulary) {
    Problems problems;
    if (!Vocabulary::parse(vocabulary, problems)) {
        throw UsageFault("the vocabulary is not sound:\n" + to_text(problems.list().front()), "mend it and try again");
    }
}

// "2026-03" ends with the last moment of that March: compared as text, any longer time that begins so comes before it.
bool not_after(std::string_view time, std::string_view limit) {
    return time.substr(0, limit.size()) <= limit;
}

}  // namespace

Store::Store(std::filesystem::path folder, std::shared_ptr<Database> db)
    : folder_(std::move(folder)), db_(std::move(db)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Store Store::create(const std::filesystem::path& folder, const Beginning& beginning) {
    const std::string vocabulary =
        beginning.vocabulary.empty() ? std::string(embedded::tableware_vocabulary) : beginning.vocabulary;
    const std::string profile = beginning.profile.empty() ? std::string(embedded::default_profile) : beginning.profile;
    must_be_sound(vocabulary);
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        throw StoreFault("cannot make the folder " + folder.string() + ": " + error.message(),
                         "choose another folder with --graph");
    std::shared_ptr<Database> database = open_database(folder, true, true);
    rocksdb::WriteBatch batch;
    batch.Put(keys::setting("format"), slice(layout_format));
    batch.Put(keys::setting("setting:author"), beginning.author);
    write_documents(*database, {"start", beginning.author, "", beginning.time, {}}, &vocabulary, &profile, batch);
    return Store(folder, std::move(database));
}

Store Store::open(const std::filesystem::path& folder, Access access) {
    std::shared_ptr<Database> database = open_database(folder, access == Access::write, false);
    const auto format = database->get(keys::setting("format"));
    if (!format)
        throw StoreFault(folder.string() + " holds no finished graph",
                         "remove the folder and make a new one with `saggar start`");
    if (*format != layout_format)
        throw StoreFault(
            "the graph has layout " + *format + ", this program reads layout " + std::string(layout_format),
            "use the program that wrote it to export, and load the export here");
    if (access == Access::write) {
        std::error_code ignored;
        std::filesystem::remove_all(folder / "incoming", ignored);
    }
    return Store(folder, std::move(database));
}

std::unique_ptr<Snapshot> Store::snapshot(std::optional<std::uint64_t> as_of) const {
    const std::uint64_t last = last_entry();
    const std::uint64_t entry = as_of.value_or(last);
    if (entry == 0 || entry > last)
        throw UsageFault("there is no entry " + std::to_string(entry),
                         "the history runs from 1 to " + std::to_string(last));
    return std::unique_ptr<Snapshot>(new Snapshot(db_, entry));
}

std::uint64_t Store::last_entry() const {
    return db_->number("last-entry");
}

std::uint64_t Store::entry_at(std::string_view time) const {
    std::uint64_t found = 0;
    for_prefix(*db_, "h", [&](std::string_view key, std::string_view value) {
        Entry entry;
        decode(value, entry);
        if (not_after(entry.time, time)) found = Bytes(key.substr(1)).big64();
        return true;
    });
    if (found == 0)
        throw UsageFault("the graph did not exist at " + std::string(time), "see `saggar history` for its first entry");
    return found;
}

Change Store::begin(ChangeHead head) {
    must_write(*db_);
    if (head.author.empty()) head.author = setting("author");
    return Change(db_, std::move(head), folder_ / "incoming");
}

Entry Store::set_vocabulary(const std::string& text, ChangeHead head) {
    must_be_sound(text);
    rocksdb::WriteBatch batch;
    return write_documents(*db_, head, &text, nullptr, batch);
}

Entry Store::set_profile(const std::string& text, ChangeHead head) {
    rocksdb::WriteBatch batch;
    return write_documents(*db_, head, nullptr, &text, batch);
}

std::string Store::setting(std::string_view name) const {
    return db_->get(keys::setting("setting:" + std::string(name))).value_or("");
}

std::optional<std::uint64_t> Store::loaded_as(const ContentId& digest) const {
    const auto value = db_->get(keys::file(digest));
    if (!value) return std::nullopt;
    return Bytes(*value).varint();
}

}  // namespace saggar
