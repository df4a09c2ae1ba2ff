#include "kg/store/pending_fields.h"

#include <catch2/catch.hpp>
#include <map>
#include <random>

#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using testing::TemporaryFolder;

TEST_CASE("pending fields keep what was put last, of known and of new numbers", "[pending_fields]") {
    TemporaryFolder folder;
    Overflow overflow(folder.path() / "o");
    PendingFields fields(overflow, 'E');
    fields.set_first_new(100);
    fields.put(7, "a");
    fields.put(130, "b");
    fields.put(7, "c");
    CHECK(fields.size() == 2);
    REQUIRE(fields.find(7));
    CHECK(*fields.find(7) == "c");
    CHECK(fields.find(101) == nullptr);
    CHECK(fields.find(8) == nullptr);

    std::string seen;
    fields.each([&](std::uint64_t id, const std::string& text) { seen += std::to_string(id) + text + ' '; });
    CHECK(seen == "7c 130b ");

    fields.drop_if(1000, [](std::uint64_t id, const std::string&) { return id == 7; });
    CHECK(fields.size() == 1);
    CHECK(fields.find(7) == nullptr);
    fields.clear();
    CHECK(fields.size() == 0);
    CHECK(fields.find(130) == nullptr);
    fields.put(130, "d");
    CHECK(fields.size() == 1);
}

TEST_CASE("pending fields agree with a plain map, spilled or not", "[pending_fields]") {
    std::mt19937 random(3);
    for (int round = 0; round < 20; ++round) {
        TemporaryFolder folder;
        Overflow overflow(folder.path() / "o");
        PendingFields fields(overflow, 'E');
        PendingFields others(overflow, 'S');
        fields.set_first_new(50);
        others.put(3, "of others");
        std::map<std::uint64_t, std::string> twin;
        for (int step = 0; step < 300; ++step) {
            const std::uint64_t id = 1 + random() % 120;
            switch (random() % 40) {
                case 0:
                    fields.spill();
                    others.spill();
                    overflow.flush();
                    break;
                case 1: {
                    const std::uint64_t below = random() % 120;
                    const auto odd = [](std::uint64_t number, const std::string&) { return number % 2 == 1; };
                    fields.drop_if(below, odd);
                    std::erase_if(twin, [&](const auto& one) { return one.first < below && odd(one.first, one.second); });
                    break;
                }
                case 2:
                    if (random() % 4 == 0) {
                        fields.clear();
                        twin.clear();
                    }
                    break;
                default:
                    twin[id] = std::to_string(step);
                    fields.put(id, std::to_string(step));
            }
            REQUIRE(fields.size() == twin.size());
            const auto known = twin.find(id);
            const std::string* found = fields.find(id);
            REQUIRE((found != nullptr) == (known != twin.end()));
            if (found) REQUIRE(*found == known->second);
        }
        std::map<std::uint64_t, std::string> seen;
        std::size_t visits = 0;
        fields.each([&](std::uint64_t id, const std::string& text) { seen[id] = text, ++visits; });
        CHECK(seen == twin);
        CHECK(visits == twin.size());
        REQUIRE(others.find(3));
        CHECK(*others.find(3) == "of others");
    }
}
