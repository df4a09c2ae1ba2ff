#include "kg/store/sorted_runs.h"

#include <catch2/catch.hpp>
#include <map>
#include <random>

#include "kg/model/fault.h"
#include "kg/store/codec.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using testing::TemporaryFolder;

namespace {

using Pairs = std::vector<std::pair<std::string, std::string>>;

Pairs merged(SortedRuns& runs) {
    Pairs out;
    runs.merge([&](std::string_view key, std::string_view value) { out.emplace_back(key, value); });
    return out;
}

// Keys of the shapes the store has: a letter and numbers, random bytes, words, short ones, and all bits alike.
std::string random_key(std::mt19937& random, int shape) {
    std::string key;
    switch (shape) {
        case 0:
            key = "c";
            for (const std::uint32_t part : {0u, static_cast<std::uint32_t>(random() % 900), 0u, static_cast<std::uint32_t>(random() % 3)})
                for (int i = 3; i >= 0; --i) key += static_cast<char>(part >> (8 * i));
            return key;
        case 1:
            for (int i = 0; i < 17; ++i) key += static_cast<char>(random());
            return key;
        case 2: {
            const char* const words[] = {"glaze", "glazed", "kiln", "a", "", "the same long beginning of a key, then "};
            key = words[random() % 6];
            return key + std::to_string(random() % 50);
        }
        case 3: return std::string(random() % 4, '\0');
        default: return "always the same first sixteen bytes and more" + std::to_string(random() % 2000);
    }
}

}  // namespace

TEST_CASE("pairs come out in the order of their keys, the last of equals only", "[sorted_runs]") {
    std::mt19937 random(1);
    for (int shape = 0; shape < 5; ++shape) {
        for (const std::size_t count : {0u, 1u, 100u, 30000u}) {
            // All in memory; and so little memory that there are many runs on disk.
            for (const std::size_t budget : {std::size_t{1} << 30, std::size_t{60000}}) {
                if (budget < (1u << 20) && count > 20000 && shape == 1) continue;  // hundreds of files otherwise
                TemporaryFolder folder;
                SortedRuns runs(folder.path(), "t", budget);
                std::map<std::string, std::string> twin;
                for (std::size_t i = 0; i < count; ++i) {
                    const std::string key = random_key(random, shape);
                    const std::string value = std::to_string(i);
                    runs.add(key, value);
                    twin[key] = value;
                }
                INFO("shape " << shape << ", " << count << " pairs, budget " << budget);
                CHECK(runs.size() == count);
                CHECK(merged(runs) == Pairs(twin.begin(), twin.end()));
            }
        }
    }
}

TEST_CASE("pairs longer than what is read of a run at a time come out whole", "[sorted_runs]") {
    TemporaryFolder folder;
    SortedRuns runs(folder.path(), "t", 100'000);
    std::mt19937 random(11);
    std::map<std::string, std::string> twin;
    for (int i = 0; i < 300; ++i) {
        const std::string key = "key " + std::to_string(random() % 200);
        const std::size_t length = i % 50 == 0 ? 700'000 + random() % 100'000 : i % 3 == 0 ? random() % 30'000 : random() % 20;
        const std::string value(length, static_cast<char>('a' + i % 26));
        runs.add(key, value);
        twin[key] = value;
    }
    CHECK(merged(runs) == Pairs(twin.begin(), twin.end()));
}

TEST_CASE("spilled runs are removed", "[sorted_runs]") {
    TemporaryFolder folder;
    {
        SortedRuns runs(folder.path() / "in", "t", 2000);
        for (int i = 0; i < 500; ++i) runs.add("key " + std::to_string(i % 7), "value");
        CHECK_FALSE(std::filesystem::is_empty(folder.path() / "in"));
        CHECK(merged(runs).size() == 7);
    }
    CHECK(std::filesystem::is_empty(folder.path() / "in"));
}

TEST_CASE("a shape of keys speeds sorting up and never spoils it", "[sorted_runs]") {
    // Claim keys as in keys.h; in the second round some numbers are larger than the shape expects.
    const KeyShape shape{{4, 5, 6, 7, 8, 11, 12, 16, 17, 18, 19, 20, 22, 23, 24}, 10};
    std::mt19937_64 random(7);
    for (const std::uint64_t largest : {std::uint64_t{1} << 20, std::uint64_t{1} << 60}) {
        for (const std::size_t budget : {std::size_t{1} << 30, std::size_t{200000}}) {
            TemporaryFolder folder;
            SortedRuns runs(folder.path(), "t", budget, shape);
            std::map<std::string, std::string> twin;
            for (int i = 0; i < 20000; ++i) {
                std::string key = "c";
                append_big64(key, random() % largest);
                append_big32(key, static_cast<std::uint32_t>(random() % 40));
                append_big64(key, random() % 300);
                if (random() % 3) append_big32(key, static_cast<std::uint32_t>(random() % 5));
                runs.add(key, std::to_string(i));
                twin[key] = std::to_string(i);
            }
            CHECK(merged(runs) == Pairs(twin.begin(), twin.end()));
        }
    }
}

TEST_CASE("a folder that cannot be made is told", "[sorted_runs]") {
    SortedRuns runs("/proc/no-such-folder/in", "t", 2000);
    CHECK_THROWS_AS([&] {
        for (int i = 0; i < 500; ++i) runs.add("key " + std::to_string(i), "value");
    }(), StoreFault);
}
