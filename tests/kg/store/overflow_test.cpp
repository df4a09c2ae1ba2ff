#include "kg/store/overflow.h"

#include <catch2/catch.hpp>

#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using testing::TemporaryFolder;

TEST_CASE("an overflow gives back what was put last, space by space, and leaves nothing behind", "[overflow]") {
    TemporaryFolder folder;
    const auto place = folder.path() / "in" / "lookups";
    {
        Overflow overflow(place);
        CHECK_FALSE(overflow.in_use());
        CHECK_FALSE(overflow.get("Na"));
        CHECK_FALSE(std::filesystem::exists(place));
        for (int i = 0; i < 50'000; ++i) overflow.put("N" + std::to_string(i % 40'000), std::to_string(i));
        overflow.put("Ra", "other");
        overflow.flush();
        CHECK(overflow.in_use());
        CHECK(overflow.get("N9999").value_or("") == "49999");
        CHECK(overflow.get("N39999").value_or("") == "39999");
        CHECK_FALSE(overflow.get("N40000"));
        overflow.remove("N1");
        CHECK_FALSE(overflow.get("N1"));
        std::size_t count = 0;
        overflow.each("N", "O", [&](std::string_view key, std::string_view) { count += key[0] == 'N'; });
        CHECK(count == 39'999);
        overflow.remove_space('N');
        CHECK_FALSE(overflow.get("N9999"));
        CHECK(overflow.get("Ra").value_or("") == "other");
    }
    CHECK_FALSE(std::filesystem::exists(place));
}
