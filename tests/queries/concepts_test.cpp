// Formal concepts: a published context with its known number of concepts, and an obvious twin that closes every set of things.
#include "queries/concepts.h"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <algorithm>
#include <set>

using namespace saggar;

namespace {

using Rows = std::vector<std::vector<std::size_t>>;

// Every set of things, closed; slow and obvious.
std::set<std::pair<std::vector<std::size_t>, std::vector<std::size_t>>> twin(const Rows& rows, std::size_t features) {
    std::set<std::pair<std::vector<std::size_t>, std::vector<std::size_t>>> all;
    const auto has = [&](std::size_t thing, std::size_t feature) {
        return std::find(rows[thing].begin(), rows[thing].end(), feature) != rows[thing].end();
    };
    for (std::size_t set = 0; set < std::size_t{1} << rows.size(); ++set) {
        std::vector<std::size_t> common, extent;
        for (std::size_t f = 0; f < features; ++f) {
            bool shared = true;
            for (std::size_t i = 0; i < rows.size(); ++i) shared = shared && (!(set >> i & 1) || has(i, f));
            if (shared) common.push_back(f);
        }
        for (std::size_t i = 0; i < rows.size(); ++i)
            if (std::all_of(common.begin(), common.end(), [&](std::size_t f) { return has(i, f); })) extent.push_back(i);
        all.insert({extent, common});
    }
    return all;
}

std::set<std::pair<std::vector<std::size_t>, std::vector<std::size_t>>> as_set(const Concepts& concepts) {
    std::set<std::pair<std::vector<std::size_t>, std::vector<std::size_t>>> all;
    for (const Concept& one : concepts.found) all.insert({one.things, one.features});
    return all;
}

}  // namespace

// Ganter and Wille, "Formal Concept Analysis" (1999), figures 1.1 to 1.4: the context "living beings and water" with the
// attributes a needs water to live, b lives in water, c lives on land, d needs chlorophyll, e two seed leaves, f one seed
// leaf, g can move around, h has limbs, i suckles its offspring; its lattice has 19 concepts.
TEST_CASE("living beings and water have 19 concepts", "[concepts]") {
    enum : std::size_t { a, b, c, d, e, f, g, h, i };
    const Rows rows = {
        {a, b, g},           // leech
        {a, b, g, h},        // bream
        {a, b, c, g, h},     // frog
        {a, c, g, h, i},     // dog
        {a, b, d, f},        // spike-weed
        {a, b, c, d, f},     // reed
        {a, c, d, e},        // bean
        {a, c, d, f},        // maize
    };
    const Concepts concepts = formal_concepts(rows, 9, 1'000);
    CHECK(concepts.complete);
    CHECK(concepts.found.size() == 19);
    CHECK(as_set(concepts) == twin(rows, 9));
    // The top: all eight, which share that they need water. The bottom: no being has everything.
    CHECK(concepts.found.front() == Concept{{0, 1, 2, 3, 4, 5, 6, 7}, {a}});
    CHECK(concepts.found.back() == Concept{{}, {a, b, c, d, e, f, g, h, i}});
}

TEST_CASE("concepts are those of the obvious twin, whichever side is smaller", "[concepts]") {
    CHECK(rc::check("concepts of random contexts", [] {
        const auto things = *rc::gen::inRange<std::size_t>(0, 8), features = *rc::gen::inRange<std::size_t>(0, 12);
        Rows rows(things);
        for (auto& row : rows)
            for (std::size_t f = 0; f < features; ++f)
                if (*rc::gen::inRange(0, 3) != 0) row.push_back(f);
        const Concepts concepts = formal_concepts(rows, features, 100'000);
        RC_ASSERT(concepts.complete);
        RC_ASSERT(as_set(concepts) == twin(rows, features));
        RC_ASSERT(as_set(concepts).size() == concepts.found.size());  // each once
    }));
}

TEST_CASE("more concepts than asked for are said to be there", "[concepts]") {
    // Of n things of which each lacks another feature every set is closed: 2^n concepts.
    Rows rows(12);
    for (std::size_t thing = 0; thing < 12; ++thing)
        for (std::size_t f = 0; f < 12; ++f)
            if (f != thing) rows[thing].push_back(f);
    CHECK(formal_concepts(rows, 12, 10'000).found.size() == 4'096);
    const Concepts cut = formal_concepts(rows, 12, 100);
    CHECK_FALSE(cut.complete);
    CHECK(cut.found.size() == 100);
    CHECK(formal_concepts(rows, 12, 4'096).complete);
}

TEST_CASE("a wide context is as quick as a narrow one", "[concepts]") {
    Rows rows(6);
    for (std::size_t f = 0; f < 20'000; ++f)
        for (std::size_t thing = 0; thing < 6; ++thing)
            if ((f >> thing & 1) != 0) rows[thing].push_back(f);
    CHECK(formal_concepts(rows, 20'000, 1'000).found.size() == 64);
}
