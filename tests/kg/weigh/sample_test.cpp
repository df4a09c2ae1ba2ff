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

namespace {

// Roots 0.. of a random lineage, each together with the last, which is the condition.
std::vector<Event> with_condition(RandomLineage& made) {
    std::vector<Event> roots;
    for (std::size_t i = 0; i + 1 < made.roots.size(); ++i) roots.push_back(made.lineage.both(made.roots[i], made.roots.back()));
    roots.push_back(made.roots.back());
    return roots;
}

}  // namespace

TEST_CASE("the same seed gives the same tally, another seed another one", "[sample]") {
    const auto made = random_lineage(3, 12, 20, 2);
    const Figures figures(made.lineage, made.roots, 200'000);
    const Sampler sampler(figures);
    SamplePlan plan;
    plan.seed = 11;
    const Tally once = sampler.run(made.lineage.chances(), plan), again = sampler.run(made.lineage.chances(), plan);
    CHECK(once.values == again.values);
    plan.seed = 12;
    CHECK(sampler.run(made.lineage.chances(), plan).values != once.values);
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
        for (const Figures* figures : {&exact, &nothing_worked_out}) {
            const Tally tally = Sampler(*figures).run(made.lineage.chances(), plan);
            CHECK(tally.free_worlds >= 18'445);
            for (std::size_t i = 0; i < values.size(); ++i, ++asked) {
                outside += std::abs(tally.values[i] - values[i]) > half_width_of(tally.free_worlds);
            }
        }
    }
    // Hoeffding allows 5 % outside; the bound is loose, so in fact there are far fewer.
    CHECK(outside * 100 <= asked);
}

TEST_CASE("given a condition, figures lie within the half-width, whether its worlds are drawn, waited for or both", "[sample]") {
    std::size_t outside = 0, asked = 0, drawn = 0, waited = 0;
    for (std::size_t seed = 0; seed < 400; ++seed) {
        auto made = random_lineage(seed + 9'000, 10 + seed % 12, 14 + seed % 20, 4);
        const auto roots = with_condition(made);
        const auto values = Figures(made.lineage, roots, 200'000).values(made.lineage.chances());
        const Figures left(made.lineage, roots, 0);
        SamplePlan plan;
        plan.seed = seed;
        plan.least = 2'000;
        for (const std::size_t budget : {0, 60, 100, 25'000}) {
            const std::size_t within[] = {0, 2};
            const Sampler sampler(left, 3, within, budget);
            const Tally tally = sampler.run(made.lineage.chances(), plan);
            ++(sampler.waits() ? waited : drawn);
            // Root 1 implies the condition too, but is counted freely.
            outside += std::abs(tally.values[1] - values[1]) > half_width_of(tally.free_worlds);
            ++asked;
            if (values[3] == 0) CHECK(tally.kept == 0);
            if (!sampler.waits()) CHECK(tally.values[3] == Approx(values[3]).margin(1e-9));
            if (tally.kept < plan.least) continue;
            for (const std::size_t i : within) {
                outside += std::abs(tally.values[i] / tally.values[3] - values[i] / values[3]) > half_width_of(tally.kept);
                ++asked;
            }
        }
    }
    CHECK(drawn > 400);
    CHECK(waited > 300);
    CHECK(outside * 100 <= asked);
}

TEST_CASE("sampled slopes come near the exact ones", "[sample]") {
    const auto made = random_lineage(77, 10, 14, 1);
    const Figures exact(made.lineage, made.roots, 200'000);
    const auto slopes = exact.slopes(made.lineage.chances())[0];
    SamplePlan plan;
    plan.slopes = true;
    plan.enough = plan.most_worlds = 200'000;
    const Tally tally = Sampler(Figures(made.lineage, made.roots, 0)).run(made.lineage.chances(), plan);
    for (std::size_t v = 0; v < slopes.size(); ++v) {
        const double chance = made.lineage.chances()[v];
        if (chance > 0 && chance < 1) CHECK(std::abs(tally.slopes[0][v] - slopes[v]) < .03);
    }
}

TEST_CASE("sampled slopes of figures given a condition come near the exact ones", "[sample]") {
    std::size_t looked_at = 0;
    for (std::size_t seed = 0; seed < 40; ++seed) {
        auto made = random_lineage(seed + 70, 10, 16, 3);
        const auto roots = with_condition(made);
        const Figures exact(made.lineage, roots, 200'000), left(made.lineage, roots, 0);
        const auto slopes = exact.slopes(made.lineage.chances());
        const std::size_t within[] = {0, 1};
        SamplePlan plan;
        plan.seed = seed;
        plan.slopes = true;
        plan.enough = 100'000;
        for (const std::size_t budget : {60, 25'000}) {
            const Sampler sampler(left, 2, within, budget);
            const Tally tally = sampler.run(made.lineage.chances(), plan);
            if (tally.kept < plan.enough) continue;
            for (std::size_t v = 0; v < slopes[0].size(); ++v) {
                const double chance = made.lineage.chances()[v];
                if (chance < .05 || chance > .95) continue;
                ++looked_at;
                for (std::size_t root = 0; root < 3; ++root) CHECK(std::abs(tally.slopes[root][v] - slopes[root][v]) < .03);
                if (!sampler.waits()) CHECK(tally.slopes[2][v] == Approx(slopes[2][v]).margin(1e-9));
            }
        }
    }
    CHECK(looked_at > 200);
}

TEST_CASE("no world is thrown away where a condition that hardly ever holds is worked out", "[sample]") {
    // Twenty conflicts of .9 against .9, two by two over one shared chance: free of contradiction in one world of some 10^10.
    Lineage lineage;
    const Event shared = lineage.chance(.9);
    std::vector<Event> consistent;
    Event last = Event::never();
    for (int i = 0; i < 20; ++i) {
        last = lineage.chance(.9);
        const Event parts[] = {last, lineage.chance(.9), i % 2 == 0 ? shared : lineage.chance(.95)};
        consistent.push_back(!lineage.all_of(parts));
    }
    const Event free = lineage.all_of(consistent);
    const Event roots[] = {lineage.both(last, free), free};
    const auto exact = Figures(lineage, roots, 200'000).values(lineage.chances());
    const Figures left(lineage, roots, 0);
    const std::size_t within[] = {0};
    const Sampler sampler(left, 1, within, 25'000);
    CHECK(!sampler.waits());
    const Tally tally = sampler.run(lineage.chances(), {});
    CHECK(tally.kept == tally.worlds);
    CHECK(tally.worlds < 20'000);
    CHECK(tally.values[1] == Approx(exact[1]).epsilon(1e-9));
    CHECK(tally.values[0] / tally.values[1] == Approx(exact[0] / exact[1]).margin(half_width_of(tally.kept)));
}

TEST_CASE("sampling goes on until enough worlds have the condition, or the worlds run out", "[sample]") {
    Lineage lineage;
    const Event rare = lineage.chance(.1), other = lineage.chance(.5);
    const Event roots[] = {lineage.both(rare, other), rare};
    const Figures figures(lineage, roots, 0);
    const std::size_t within[] = {0};
    const Sampler waiting(figures, 1, within, 0);
    SamplePlan plan;
    plan.enough = 2'000;
    const Tally tally = waiting.run(lineage.chances(), plan);
    CHECK(tally.kept >= 2'000);
    CHECK(tally.worlds > 15'000);
    plan.most_worlds = 1'024;
    CHECK(waiting.run(lineage.chances(), plan).worlds == 1'024);
    plan.most_worlds = 1'000'000;
    plan.least = 1'000'000;  // can never be reached at one in ten
    CHECK(waiting.run(lineage.chances(), plan).worlds <= 4'096);
}
