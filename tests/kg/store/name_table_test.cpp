#include "kg/store/name_table.h"

#include <catch2/catch.hpp>
#include <map>
#include <random>
#include <string>

using namespace saggar;

TEST_CASE("a name table answers as a map does, however much it grows", "[name_table]") {
    NameTable table;
    std::map<std::string, std::uint64_t> twin;
    std::mt19937 random(7);
    CHECK_FALSE(table.find("item:cup"));
    for (int i = 0; i < 20000; ++i) {
        const std::string name = "item:" + std::to_string(random() % 9000);
        const auto known = twin.find(name);
        const EntityId found = table.find(name);
        REQUIRE(found.value == (known == twin.end() ? 0 : known->second));
        if (known != twin.end()) continue;
        const std::uint64_t id = twin.size() + 1;
        twin.emplace(name, id);
        table.insert(name, EntityId{id});
    }
    std::map<std::string, std::uint64_t> all;
    table.each([&](std::string_view name, EntityId id) { all.emplace(name, id.value); });
    CHECK(all == twin);
}

TEST_CASE("a probe made before the table grew still finds its name", "[name_table]") {
    NameTable table;
    const std::string name = "shape:tern";
    const NameTable::Probe probe = table.probe(name);
    table.insert(name, EntityId{5});
    for (std::uint64_t i = 0; i < 1000; ++i) table.insert("item:" + std::to_string(i), EntityId{i + 10});
    CHECK(table.find(probe) == EntityId{5});
}
