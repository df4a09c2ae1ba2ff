#include "kg/store/pending_fields.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("pending fields keep what was put last, of known and of new numbers", "[pending_fields]") {
    PendingFields fields;
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

    fields.drop_if([](std::uint64_t id, const std::string&) { return id == 7; });
    CHECK(fields.size() == 1);
    CHECK(fields.find(7) == nullptr);
    fields.clear();
    CHECK(fields.size() == 0);
    CHECK(fields.find(130) == nullptr);
    fields.put(130, "d");
    CHECK(fields.size() == 1);
}
