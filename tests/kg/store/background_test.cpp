#include "kg/store/background.h"

#include <catch2/catch.hpp>
#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

using namespace saggar;

TEST_CASE("jobs are done in order, also where the bytes that may wait are few", "[background]") {
    std::vector<int> done;
    Background background;
    for (int i = 0; i < 200; ++i) background.give([&done, i] { done.push_back(i); }, 40u << 20);
    background.finish();
    REQUIRE(done.size() == 200);
    for (int i = 0; i < 200; ++i) REQUIRE(done[static_cast<std::size_t>(i)] == i);
    background.finish();  // nothing left: returns
}

TEST_CASE("a job's exception comes out and ends the work", "[background]") {
    Background background;
    std::atomic<int> after = 0;
    background.give([] { throw std::runtime_error("disk full"); }, 1);
    CHECK_THROWS_WITH(background.finish(), "disk full");
    CHECK_THROWS_WITH(background.give([&after] { ++after; }, 1), "disk full");
    CHECK(after == 0);
}

TEST_CASE("jobs not begun are dropped with the helper", "[background]") {
    std::atomic<int> done = 0;
    {
        Background background;
        for (int i = 0; i < 50; ++i) background.give([&done] { ++done; }, 1);
    }
    CHECK(done <= 50);
    { const Background never_used; }
}

TEST_CASE("one job can be waited for while later ones go on", "[background]") {
    std::atomic<bool> let_go = false;
    std::atomic<int> done = 0;
    Background background;
    const auto first = background.give([&done] { ++done; }, 1);
    const auto second = background.give(
        [&] {
            while (!let_go) std::this_thread::yield();
            ++done;
        },
        1);
    CHECK(first < second);
    background.wait_for(first);
    CHECK(done == 1);
    let_go = true;
    background.wait_for(second);
    CHECK(done == 2);
    background.wait_for(0);  // before any job
}
