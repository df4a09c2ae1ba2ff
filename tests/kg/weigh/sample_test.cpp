#include "kg/weigh/sample.h"

#include <catch2/catch.hpp>

#include <cmath>

#include "tests/kg/weigh/random_lineage.h"

using namespace saggar::weighing;

TEST_CASE("Hoeffding's inequality asks for 18 445 worlds for a hundredth", "[sample]") {
    // n >= ln(2/.05) / (2 * .01^2) = 18 444.4; Hoeffding 1963, theorem 2.
    CHECK(worlds_for(.01) == 18'445);
    CHECK(half_width_of(18'445) == Approx(.01).epsilon(1e-4));
    CHECK(half_width_of(0) == 1);
}

TEST_CASE("the same seed gives the same tally, another seed another one", "[sample]") {
    const auto made = random_lineage(3, 12, 20, 2);
    const Figures figures(made.lineage, made.roots, 200'000);
    SamplePlan plan;
    plan.seed = 11;
    const Tally once = sample(figures, made.lineage.chances(), plan), again = sample(figures, made.lineage.chances(), plan);
    CHECK(once.holds == again.holds);
    plan.seed = 12;
    CHECK(sample(figures, made.lineage.chances(), plan).holds != once.holds);
}

TEST_CASE("sampled figures lie within the half-width, with and without exact parts inside", "[sample]") {
    std::size_t outside = 0, asked = 0;
    for (std::size_t seed = 0; seed < 300; ++seed) {
        const auto made = random_lineage(seed + 500, 8 + seed % 10, 12 + seed % 12, 3);
        const Figures exact(made.lineage, made.roots, 200'000);
        const Figures nothing_worked_out(made.lineage, made.roots, 0);  // parts of more than six leaves are past the budget
        const auto values = exact.values(made.lineage.chances());
        SamplePlan plan;
        plan.seed = seed;
        plan.enough = plan.most_worlds = 18'445;
        for (const Figures* figures : {&exact, &nothing_worked_out}) {
            const Tally tally = sample(*figures, made.lineage.chances(), plan);
            CHECK(tally.worlds >= 18'445);
            for (std::size_t i = 0; i < values.size(); ++i, ++asked) {
                const double frequency = static_cast<double>(tally.holds[i]) / static_cast<double>(tally.worlds);
                outside += std::abs(frequency - values[i]) > half_width_of(tally.worlds);
            }
        }
    }
    // Hoeffding allows 5 % outside; the bound is loose, so in fact there are far fewer.
    CHECK(outside * 100 <= asked);
}

TEST_CASE("sampled slopes come near the exact ones", "[sample]") {
    const auto made = random_lineage(77, 10, 14, 1);
    const Figures exact(made.lineage, made.roots, 200'000);
    const auto slopes = exact.slopes(made.lineage.chances())[0];
    SamplePlan plan;
    plan.slopes = true;
    plan.enough = plan.most_worlds = 200'000;
    const Tally tally = sample(Figures(made.lineage, made.roots, 0), made.lineage.chances(), plan);
    for (std::size_t v = 0; v < slopes.size(); ++v) {
        const double chance = made.lineage.chances()[v];
        if (chance > 0 && chance < 1) CHECK(std::abs(tally.slopes[0][v] - slopes[v]) < .03);
    }
}

TEST_CASE("sampling goes on until enough worlds are free of contradiction", "[sample]") {
    Lineage lineage;
    const Event rare = lineage.chance(.1), other = lineage.chance(.5);
    const Event roots[] = {rare, other};
    SamplePlan plan;
    plan.enough = 2'000;
    const Tally tally = sample(Figures(lineage, roots, 200'000), lineage.chances(), plan);
    CHECK(tally.holds[0] >= 2'000);
    CHECK(tally.worlds > 15'000);
    plan.most_worlds = 1'024;
    CHECK(sample(Figures(lineage, roots, 200'000), lineage.chances(), plan).worlds == 1'024);
}
