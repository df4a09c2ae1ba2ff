#include "kg/weigh/condition.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace saggar::weighing;

namespace {

// Leaf i in conflict with leaf i + 1, for all i: no two neighbours hold together.
struct Neighbours {
    Circuit circuit;
    std::vector<double> chances;
    Event event;
};

Neighbours neighbours(std::uint32_t leaves) {
    Neighbours it;
    it.circuit.leaves = leaves;
    std::vector<Event> apart;
    for (std::uint32_t i = 1; i < leaves; ++i) {
        it.circuit.inputs.push_back(Event::of(i));
        it.circuit.inputs.push_back(Event::of(i + 1));
        it.circuit.gate_end.push_back(static_cast<std::uint32_t>(it.circuit.inputs.size()));
        apart.push_back(Event::of(it.circuit.gate_index(it.circuit.gates() - 1), true));
    }
    it.circuit.inputs.insert(it.circuit.inputs.end(), apart.begin(), apart.end());
    it.circuit.gate_end.push_back(static_cast<std::uint32_t>(it.circuit.inputs.size()));
    it.event = Event::of(it.circuit.gate_index(it.circuit.gates() - 1));
    it.chances.assign(leaves, .5);
    return it;
}

std::vector<std::uint64_t> free_words(std::size_t leaves, std::mt19937_64& random) {
    std::vector<std::uint64_t> words(leaves);
    for (std::uint64_t& word : words) word = random();
    return words;
}

}  // namespace

TEST_CASE("every drawn world has the event, each as often as any other like it", "[condition]") {
    // Words of n bits without two neighbouring ones are counted by the Fibonacci numbers: 13 of 32 for n = 5
    // (Knuth, The Art of Computer Programming 1, section 1.2.8).
    const Neighbours it = neighbours(5);
    const Condition condition(it.circuit, it.event, 1'000);
    REQUIRE(condition.whole());
    const ConditionedWorlds worlds(condition, it.chances);
    CHECK(worlds.probability() == Approx(13.0 / 32));
    std::mt19937_64 random(5);
    std::vector<std::size_t> met(32, 0);
    constexpr std::size_t rounds = 1'000;
    for (std::size_t round = 0; round < rounds; ++round) {
        auto words = free_words(5, random);
        worlds.impose(words, random);
        for (unsigned lane = 0; lane < 64; ++lane) {
            std::size_t world = 0;
            for (std::size_t leaf = 0; leaf < 5; ++leaf) world |= (words[leaf] >> lane & 1) << leaf;
            ++met[world];
        }
    }
    for (std::size_t world = 0; world < 32; ++world) {
        const bool apart = (world & world >> 1) == 0;
        const double expected = apart ? 64.0 * rounds / 13 : 0;
        CHECK(std::abs(static_cast<double>(met[world]) - expected) <= 6 * std::sqrt(expected));
    }
}

TEST_CASE("the chance of the event given a leaf is exact", "[condition]") {
    const Neighbours it = neighbours(5);
    const Condition condition(it.circuit, it.event, 1'000);
    const ConditionedWorlds worlds(condition, it.chances);
    // With the first leaf the second is out and three are left: 5 of 16; without it four are left: 8 of 16.
    CHECK(worlds.given(0) == Approx(5.0 / 16));
    CHECK(worlds.given_not(0) == Approx(8.0 / 16));
    // With the middle one its neighbours are out: 4 of 16.
    CHECK(worlds.given(2) == Approx(4.0 / 16));
}

TEST_CASE("a condition past its budget holds as many conjuncts as fit, none without a budget", "[condition]") {
    const Neighbours it = neighbours(30);
    CHECK(Condition(it.circuit, it.event, 1'000).whole());
    const Condition none(it.circuit, it.event, 0);
    CHECK(!none.whole());
    CHECK(ConditionedWorlds(none, it.chances).probability() == 1);
    const Condition some(it.circuit, it.event, 110);
    CHECK(!some.whole());
    const double part = ConditionedWorlds(some, it.chances).probability();
    CHECK(part < 1);
    CHECK(part > ConditionedWorlds(Condition(it.circuit, it.event, 1'000), it.chances).probability());
}

TEST_CASE("what always or never holds, or is a single leaf, can be a condition", "[condition]") {
    Neighbours it = neighbours(3);
    it.chances = {.25, .5, 1};
    CHECK(ConditionedWorlds(Condition(it.circuit, Event::always(), 100), it.chances).probability() == 1);
    CHECK(ConditionedWorlds(Condition(it.circuit, Event::never(), 100), it.chances).probability() == 0);
    CHECK(ConditionedWorlds(Condition(it.circuit, Event::of(1), 100), it.chances).probability() == .25);
    CHECK(ConditionedWorlds(Condition(it.circuit, Event::of(1, true), 100), it.chances).probability() == .75);
}
