#include "kg/weigh/world_circuit.h"

#include <catch2/catch.hpp>

#include "tests/kg/weigh/brute_force.h"
#include "tests/kg/weigh/random_lineage.h"

using namespace saggar::weighing;

namespace {

// Gates that hold where so many leaves do; bit i of `leaves` is leaf i.
std::vector<bool> roots_in(const Circuit& circuit, std::uint64_t leaves) {
    std::vector<bool> holds{true};
    const auto holds_in = [&](Event event) { return holds[event.node()] != event.negated(); };
    for (std::uint32_t i = 0; i < circuit.leaves; ++i) holds.push_back(leaves >> i & 1);
    for (std::size_t gate = 0; gate < circuit.gates(); ++gate) {
        bool all = true;
        for (const Event input : circuit.gate_inputs(gate)) all = all && holds_in(input);
        holds.push_back(all);
    }
    std::vector<bool> roots;
    for (const Event root : circuit.roots) roots.push_back(holds_in(root));
    return roots;
}

}  // namespace

TEST_CASE("the circuit to be sampled has the figures of its lineage", "[world_circuit]") {
    std::size_t with_parts = 0;
    for (std::size_t seed = 0; seed < 400; ++seed) {
        const auto made = random_lineage(seed + 20'000, 8 + seed % 6, 10 + seed % 20, 3);
        const Figures left(made.lineage, made.roots, 0);  // parts of more than six leaves stay open, smaller ones are exact
        const WorldCircuit worlds = circuit_of_worlds(left);
        REQUIRE(worlds.leaves.size() == worlds.circuit.leaves);
        bool parts = false;
        for (const Piece::Leaf leaf : worlds.leaves) parts = parts || leaf.is_piece;
        with_parts += parts;
        if (parts) continue;  // those are compared through the sampler
        std::vector<double> sums(3, 0.0);
        for (std::uint64_t world = 0; world < std::uint64_t{1} << worlds.leaves.size(); ++world) {
            double probability = 1;
            for (std::size_t i = 0; i < worlds.leaves.size(); ++i) {
                const double chance = made.lineage.chances()[worlds.leaves[i].number];
                probability *= world >> i & 1 ? chance : 1 - chance;
            }
            const auto roots = roots_in(worlds.circuit, world);
            for (std::size_t i = 0; i < 3; ++i) sums[i] += roots[i] ? probability : 0;
        }
        const auto slow = by_brute_force(made.lineage, made.roots, made.lineage.chances());
        for (std::size_t i = 0; i < 3; ++i) CHECK(sums[i] == Approx(slow[i]).margin(1e-9));
    }
    CHECK(with_parts < 300);
}
