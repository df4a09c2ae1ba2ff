// Further published figures: belief functions, distribution semantics, reliability, Bayesian networks where they coincide.
// Values that are not worked out here from the published definitions are from memory where it says so.
#include <catch2/catch.hpp>

#include <cmath>

#include "kg/weigh/figures.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using testing::SmallGraph;
using weighing::Event;
using weighing::Figures;
using weighing::Lineage;

namespace {

// P(wanted and given) / P(given).
double given(Lineage& lineage, Event wanted, Event condition) {
    const Event roots[] = {lineage.both(wanted, condition), condition};
    const auto values = Figures(lineage, roots, 200'000).values(lineage.chances());
    return values[0] / values[1];
}
double probability(Lineage& lineage, Event event) { return given(lineage, event, Event::always()); }

// A node of a Bayesian network with two parents: one independent chance for each row of its table.
Event node(Lineage& lineage, Event a, Event b, double both, double only_a, double only_b, double neither) {
    const std::pair<std::vector<Event>, double> rows[] = {{{a, b}, both}, {{a, !b}, only_a}, {{!a, b}, only_b}, {{!a, !b}, neither}};
    std::vector<Event> ways;
    for (const auto& [when, chance] : rows) ways.push_back(lineage.both(lineage.all_of(when), lineage.chance(chance)));
    return lineage.any_of(ways);
}
Event node(Lineage& lineage, Event a, double yes, double no) {
    return lineage.either(lineage.both(a, lineage.chance(yes)), lineage.both(!a, lineage.chance(no)));
}

}  // namespace

TEST_CASE("two witnesses for one thing, and a report handed on", "[published]") {
    // George Hooper, "A calculation of the credibility of human testimony", Phil. Trans. 21 (1699); the rules as in Shafer,
    // "The combination of evidence" (1986): concurrent 1 - (1-p)(1-q), successive p q. Two of 5/6 concur: 35/36.
    SmallGraph graph;
    const Claim concurrent = graph.claim("treated-with", "treatment:a");
    graph.witness(concurrent, 5. / 6);
    graph.witness(concurrent, 5. / 6);
    Claim report = graph.claim("treated-with", "treatment:b0");
    graph.witness(report, .9);
    for (int i = 1; i < 4; ++i) {
        const Claim next = graph.claim("treated-with", "treatment:b" + std::to_string(i));
        graph.argument({report}, next, .9);
        report = next;
    }
    graph.write();
    CHECK(graph.weigh(concurrent).support == Approx(35. / 36));
    CHECK(graph.weigh(report).support == Approx(std::pow(.9, 4)));
}

TEST_CASE("two honest witnesses of .9 agree", "[published]") {
    // Shafer, "Perspectives on the theory and practice of belief functions" (1990): Betty and Sally, .99.
    SmallGraph graph;
    const Claim claim = graph.claim("treated-with", "treatment:a");
    graph.witness(claim, .9);
    graph.witness(claim, .9);
    graph.write();
    CHECK(graph.weigh(claim).support == Approx(.99));
}

TEST_CASE("conflicting simple support", "[published]") {
    // Shafer, "A mathematical theory of evidence" (1976), section 4.3: s1 (1 - s2) / (1 - s1 s2) and the same turned round.
    for (const auto& [s1, s2] : {std::pair{.8, .3}, std::pair{.5, .5}, std::pair{.2, .9}}) {
        SmallGraph graph;
        const Claim claim = graph.claim("treated-with", "treatment:a");
        graph.witness(claim, s1);
        graph.witness(claim, s2, Stance::against);
        graph.write();
        const Weight weight = graph.weigh(claim);
        CHECK(weight.support == Approx(s1 * (1 - s2) / (1 - s1 * s2)));
        CHECK(1 - weight.possibility == Approx(s2 * (1 - s1) / (1 - s1 * s2)));
    }
}

TEST_CASE("relays in series and parallel", "[published]") {
    // Moore and Shannon, "Reliable circuits using less reliable relays" (1956): 2p^2 - p^4, which crosses p at .618, and
    // 4p^2 - 4p^3 + p^4.
    const double golden = (std::sqrt(5.) - 1) / 2;
    for (const double p : {.1, .5, golden, .9}) {
        Lineage lineage;
        const Event a = lineage.chance(p), b = lineage.chance(p), c = lineage.chance(p), d = lineage.chance(p);
        const double chains = probability(lineage, lineage.either(lineage.both(a, b), lineage.both(c, d)));
        const double pairs = probability(lineage, lineage.both(lineage.either(a, b), lineage.either(c, d)));
        CHECK(chains == Approx(2 * p * p - std::pow(p, 4)));
        CHECK(pairs == Approx(4 * p * p - 4 * std::pow(p, 3) + std::pow(p, 4)));
        if (p == golden) CHECK(chains == Approx(p));
    }
}

TEST_CASE("a row of parts that fails when two neighbours fail", "[published]") {
    // Chiang and Niu, "Reliability of consecutive-k-out-of-n:F system" (1981): sum over j of C(n-j+1, j) q^j p^(n-j).
    const double p = .8, q = .2;
    for (int n = 2; n <= 12; ++n) {
        double expected = 0;
        for (int j = 0; j <= (n + 1) / 2; ++j) {
            double choose = 1;
            for (int i = 0; i < j; ++i) choose = choose * (n - j + 1 - i) / (i + 1);
            expected += choose * std::pow(q, j) * std::pow(p, n - j);
        }
        Lineage lineage;
        std::vector<Event> works, fine;
        for (int i = 0; i < n; ++i) works.push_back(lineage.chance(p));
        for (std::size_t i = 0; i + 1 < works.size(); ++i) fine.push_back(lineage.either(works[i], works[i + 1]));
        CHECK(probability(lineage, lineage.all_of(fine)) == Approx(expected));
    }
}

TEST_CASE("burglary, earthquake, and two neighbours who call", "[published]") {
    // Russell and Norvig, Artificial Intelligence (after Pearl 1988): P(burglary | both call) = .284.
    Lineage lineage;
    const Event burglary = lineage.chance(.001), earthquake = lineage.chance(.002);
    const Event alarm = node(lineage, burglary, earthquake, .95, .94, .29, .001);
    const Event john = node(lineage, alarm, .90, .05), mary = node(lineage, alarm, .70, .01);
    CHECK(given(lineage, burglary, lineage.both(john, mary)) == Approx(.284).margin(5e-4));
    const Event world[] = {john, mary, alarm, !burglary, !earthquake};
    CHECK(probability(lineage, lineage.all_of(world)) == Approx(.000628).margin(5e-7));
}

TEST_CASE("clouds, a sprinkler and wet grass", "[published]") {
    // Murphy, "A brief introduction to graphical models and Bayesian networks" (1998): P(wet) = .6471,
    // P(sprinkler | wet) = .4298, P(rain | wet) = .7079.
    Lineage lineage;
    const Event cloudy = lineage.chance(.5);
    const Event sprinkler = node(lineage, cloudy, .1, .5), rain = node(lineage, cloudy, .8, .2);
    const Event wet = node(lineage, sprinkler, rain, .99, .9, .9, 0);
    CHECK(probability(lineage, wet) == Approx(.6471).margin(5e-5));
    CHECK(given(lineage, sprinkler, wet) == Approx(.4298).margin(5e-5));
    CHECK(given(lineage, rain, wet) == Approx(.7079).margin(5e-5));
}

TEST_CASE("the alarm and the coins of ProbLog's tutorial", "[published]") {
    // ProbLog tutorial (De Raedt, Kimmig and others); figures from memory, and worked out: .574/.58, .132/.58, .8.
    Lineage lineage;
    const Event burglary = lineage.chance(.7), earthquake = lineage.chance(.2);
    const Event alarm = node(lineage, burglary, earthquake, .9, .8, .1, 0);
    CHECK(given(lineage, burglary, alarm) == Approx(.98965517).margin(5e-9));
    CHECK(given(lineage, earthquake, alarm) == Approx(.22758621).margin(5e-9));
    CHECK(probability(lineage, lineage.either(lineage.chance(.5), lineage.chance(.6))) == Approx(.8));
}

TEST_CASE("three doors, and three prisoners", "[published]") {
    // Selvin, "A problem in probability", The American Statistician 29 (1975): changing wins 2/3. The prisoner's chance
    // stays 1/3 (Pearl 1988, section 2.3).
    Lineage lineage;
    const Event first = lineage.chance(1. / 3);                                  // behind the door chosen
    const Event second = lineage.both(!first, lineage.chance(.5));               // behind door 2
    const Event third[] = {!first, !second};
    const Event behind_third = lineage.all_of(third);
    const Event opens_third = lineage.either(second, lineage.both(first, lineage.chance(.5)));
    CHECK(given(lineage, second, opens_third) == Approx(2. / 3));
    CHECK(given(lineage, first, opens_third) == Approx(1. / 3));
    CHECK(probability(lineage, lineage.both(opens_third, behind_third)) == 0);
}
