#include "kg/weigh/bdd.h"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <cstring>

#include "kg/weigh/world_circuit.h"
#include "tests/kg/weigh/random_lineage.h"

using namespace saggar::weighing;

namespace {

constexpr std::size_t plenty = 200'000;

std::vector<double> values_of(const Diagram& diagram, const std::vector<double>& chances) {
    std::vector<double> value, roots;
    diagram.values(chances, value);
    for (const std::uint32_t root : diagram.roots) roots.push_back(value[root]);
    return roots;
}

// What the allocator gives out next is not zero.
void soil_the_heap() {
    std::vector<void*> blocks;
    for (std::size_t size = 16; size < 4'096; size += 16) {
        blocks.push_back(std::malloc(size));
        std::memset(blocks.back(), 0x5A, size);
    }
    for (void* block : blocks) std::free(block);
}

struct Whole {
    RandomLineage made;
    Circuit circuit;
    std::vector<double> chances;  // per leaf
};

Whole whole_circuit(std::uint64_t seed, std::size_t roots) {
    Whole it{random_lineage(seed, 10 + seed % 10, 14 + seed % 20, roots), {}, {}};
    const WorldCircuit worlds = circuit_of_worlds(Figures(it.made.lineage, it.made.roots, 0));
    it.circuit = worlds.circuit;
    std::vector<double> random_chances(worlds.leaves.size());
    for (std::size_t i = 0; i < random_chances.size(); ++i) random_chances[i] = static_cast<double>(i + 1) / static_cast<double>(i + 3);
    it.chances = random_chances;
    return it;
}

}  // namespace

TEST_CASE("whatever the budget, a diagram is whole and right or there is none", "[bdd]") {
    std::size_t fitted = 0, too_large = 0;
    for (std::size_t seed = 0; seed < 200; ++seed) {
        const Whole it = whole_circuit(seed + 40'000, 3);
        const auto right = values_of(*work_out(it.circuit, plenty), it.chances);
        for (std::size_t budget = 20; budget < 200; budget += 7) {
            soil_the_heap();
            const auto diagram = work_out(it.circuit, budget);
            ++(diagram ? fitted : too_large);
            if (!diagram) continue;
            const auto values = values_of(*diagram, it.chances);
            for (std::size_t i = 0; i < values.size(); ++i) CHECK(values[i] == Approx(right[i]).margin(1e-12));
        }
    }
    CHECK(fitted > 1'000);
    CHECK(too_large > 500);
}

TEST_CASE("a conjunction has its leading roots, as many as fit", "[bdd]") {
    std::size_t whole = 0, in_part = 0;
    for (std::size_t seed = 0; seed < 200; ++seed) {
        Whole it = whole_circuit(seed + 50'000, 5);
        for (const std::size_t budget : {std::size_t{60}, std::size_t{90}, plenty}) {
            soil_the_heap();
            const Conjunction got = work_out_conjunction(it.circuit, budget);
            // The same by one gate over the roots taken.
            Circuit gate = it.circuit;
            gate.inputs.insert(gate.inputs.end(), it.circuit.roots.begin(), it.circuit.roots.begin() + static_cast<std::ptrdiff_t>(got.taken));
            gate.gate_end.push_back(static_cast<std::uint32_t>(gate.inputs.size()));
            gate.roots = {Event::of(gate.gate_index(gate.gates() - 1))};
            const auto right = values_of(*work_out(gate, plenty), it.chances);
            CHECK(values_of(got.diagram, it.chances)[0] == Approx(right[0]).margin(1e-12));
            ++(got.taken == 5 ? whole : in_part);
            if (budget == plenty) CHECK(got.taken == 5);
        }
    }
    CHECK(whole > 200);
    CHECK(in_part > 30);
}
