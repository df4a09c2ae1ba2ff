// The weigher against its slow twin, on random graphs with everything in them.
#include <catch2/catch.hpp>

#include <cmath>

#include "tests/kg/weigh/small_graph.h"
#include "tests/kg/weigh/twin.h"

using namespace saggar;
using namespace saggar::testing;

TEST_CASE("the weigher agrees with playing every world on 5 000 random graphs", "[twin]") {
    SmallGraph store;
    std::vector<RandomGraph> graphs;
    for (std::uint64_t seed = 0; seed < 5'000; ++seed) {
        graphs.push_back(random_graph(seed));
        for (const Record& record : graphs.back().records()) store.add(record);
    }
    store.write();
    std::size_t played = 0, contradictory = 0;
    double worst = 0;
    std::string worst_at;
    for (const RandomGraph& graph : graphs) {
        const int asked = static_cast<int>(played % graph.claims.size());
        const auto twin = play_all_worlds(graph, asked);
        if (!twin) continue;
        ++played;
        const Masses masses = store.weigher().masses(store.ref(graph.claim(asked)));
        const double off = std::max({std::abs(masses.for_only - twin->masses.for_only), std::abs(masses.both - twin->masses.both),
                                     std::abs(masses.against_only - twin->masses.against_only), std::abs(masses.neither - twin->masses.neither)});
        contradictory += twin->masses.both > 0;
        if (off > worst) {
            worst = off;
            worst_at = graph.name;
        }
    }
    INFO("worst at " << worst_at);
    CHECK(worst < 1e-9);
    CHECK(played > 4'900);
    CHECK(contradictory > 500);
}
