// What a large change has to look up again and is too much for memory: a scratch database of its own beside the graph's, without a log,
// removed with the change. Nothing is made before the first write.
//
// Cost: a look-up of what is not there reads a filter (about a microsecond), of what is there a block (some microseconds). It takes about
// 16 MiB of memory, whatever it holds.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace rocksdb {
class DB;
class WriteBatch;
}  // namespace rocksdb

namespace saggar {

// Keys begin with a letter of the user's, its space. Not thread-safe. StoreFault where the disk is full.
class Overflow {
public:
    explicit Overflow(std::filesystem::path folder);
    ~Overflow();  // removes the folder
    Overflow(const Overflow&) = delete;
    Overflow& operator=(const Overflow&) = delete;

    bool in_use() const { return db_ != nullptr; }
    // Written with others; flush() before the next look-up.
    void put(std::string_view key, std::string_view value);
    void flush();
    std::optional<std::string> get(std::string_view key) const;
    void remove(std::string_view key);
    // Every key from `begin` on and before `end`, in order; of one space where `end` begins with the letter behind it.
    void each(std::string_view begin, std::string_view end, const std::function<void(std::string_view key, std::string_view value)>& visit) const;
    void remove_space(char space);

private:
    void open();

    std::filesystem::path folder_;
    std::unique_ptr<rocksdb::DB> db_;
    std::unique_ptr<rocksdb::WriteBatch> waiting_;
};

}  // namespace saggar
