// Naming a piece against its formula worked out by hand, and what must hold of any answer. All names are invented.
#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <random>

#include "queries/identify.h"
#include "queries/information.h"
#include "tests/kg/weigh/small_graph.h"
#include "tests/queries/named.h"

using namespace saggar;
using saggar::testing::SmallGraph;
using saggar::testing::named;

namespace {

constexpr int items = 6, features = 5;

// Direct claims only, each with one reading for or against, or none.
struct SmallWorld {
    SmallGraph graph;
    double has[items][features] = {}, never[items][features] = {};

    explicit SmallWorld(std::uint32_t seed) {
        std::mt19937 random(seed);
        for (int i = 0; i < items; ++i) {
            graph.witness(graph.claim("numbered", "no. " + std::to_string(i), item(i), Value::Type::text), .9);
            for (int f = 0; f < features; ++f) {
                const int what = static_cast<int>(random() % 4);
                const double reliability = .05 + .01 * static_cast<double>(random() % 90);
                if (what == 0) has[i][f] = reliability;
                if (what == 1) never[i][f] = reliability;
                if (what > 1) continue;
                graph.witness(graph.claim("has-feature", feature(f), item(i)), reliability, what == 0 ? Stance::in_favour : Stance::against);
            }
        }
        for (int f = 0; f < features; ++f) graph.witness(graph.claim("has-feature", feature(f), "mark:any"), .9);  // so that all are known
        graph.write();
    }
    static std::string item(int i) { return "item:i" + std::to_string(i); }
    static std::string feature(int f) { return "feature:f" + std::to_string(f); }

    // The twin: the formula of identify.h, number by number.
    std::map<std::string, double> twin(const std::vector<int>& seen, const std::vector<int>& missing) const {
        std::map<std::string, double> fits;
        double sum = 0;
        for (int i = 0; i < items; ++i) {
            bool out = false;
            double product = 1;
            for (int f = 0; f < features; ++f) {
                const double h = has[i][f] + .5 * (1 - has[i][f] - never[i][f]), chance = h * .95 + (1 - h) * .02;
                for (const int one : seen) {
                    if (one != f) continue;
                    out = out || never[i][f] >= .5;
                    product *= chance;
                }
                for (const int one : missing)
                    if (one == f) product *= 1 - chance;
            }
            if (out) continue;
            fits[item(i)] = product;
            sum += product;
        }
        for (auto& one : fits) one.second /= sum;
        return fits;
    }
};

std::map<std::string, double> fits_of(SmallGraph& graph, const IdentifyAnswer& answer) {
    std::map<std::string, double> fits;
    for (const Candidate& one : answer.candidates) fits[graph.snapshot().key_of(one.thing.id)] = one.fit;
    return fits;
}

}  // namespace

TEST_CASE("fits are those of the formula worked out by hand, in whatever order things are seen", "[identify]") {
    for (std::uint32_t seed = 0; seed < 60; ++seed) {
        SmallWorld world(seed);
        std::mt19937 random(seed + 1'000);
        std::vector<int> seen, missing;
        for (int f = 0; f < features; ++f) {
            const auto what = random() % 3;
            if (what == 0) seen.push_back(f);
            if (what == 1) missing.push_back(f);
        }
        if (seen.empty() && missing.empty()) continue;
        const auto words = [](const std::vector<int>& which) {
            std::vector<std::string> all;
            for (const int f : which) all.push_back("has-feature " + SmallWorld::feature(f));
            return all;
        };
        const IdentifyAnswer answer = named(world.graph, words(seen), words(missing));
        const auto found = fits_of(world.graph, answer), expected = world.twin(seen, missing);
        INFO(seed);
        REQUIRE(found.size() == expected.size());
        for (const auto& [key, value] : expected) {
            INFO(key);
            CHECK(found.at(key) == Approx(value).margin(1e-12));
        }
        std::reverse(seen.begin(), seen.end());
        std::reverse(missing.begin(), missing.end());
        for (const auto& [key, value] : fits_of(world.graph, named(world.graph, words(seen), words(missing))))
            CHECK(found.at(key) == Approx(value).margin(1e-12));
        // The next look is the one with the largest gain of all that could be asked, by the same formula.
        if (answer.candidates.size() < 2) continue;
        double best = 0;
        for (int f = 0; f < features; ++f) {
            if (std::find(seen.begin(), seen.end(), f) != seen.end() || std::find(missing.begin(), missing.end(), f) != missing.end()) continue;
            std::vector<double> prior, yes, no;
            for (int i = 0; i < items; ++i) {
                if (expected.count(SmallWorld::item(i)) == 0) continue;
                const double h = world.has[i][f] + .5 * (1 - world.has[i][f] - world.never[i][f]);
                prior.push_back(expected.at(SmallWorld::item(i)));
                yes.push_back(h * .95 + (1 - h) * .02);
                no.push_back(1 - yes.back());
            }
            best = std::max(best, information_gain(prior, {yes, no}));
        }
        if (best < .01) continue;
        REQUIRE_FALSE(answer.next.empty());
        CHECK(answer.next.front().gain == Approx(best).margin(1e-9));
    }
}

TEST_CASE("what nobody knows anything of changes no fit", "[identify]") {
    for (std::uint32_t seed = 0; seed < 20; ++seed) {
        SmallWorld world(seed);
        world.graph.witness(world.graph.claim("has-feature", "feature:unheard", "mark:any"), .9);
        world.graph.write();
        const auto before = fits_of(world.graph, named(world.graph, {"has-feature feature:f0"}));
        const auto after = fits_of(world.graph, named(world.graph, {"has-feature feature:f0", "has-feature feature:unheard"}));
        REQUIRE(before.size() == after.size());
        for (const auto& [key, value] : before) CHECK(after.at(key) == Approx(value).margin(1e-12));
    }
}

TEST_CASE("thousands of candidates and features are weighed, or the limit is told", "[identify]") {
    SmallGraph graph;
    graph.source("book", .9);
    for (int i = 0; i < 3'000; ++i) {
        graph.reading(graph.claim("has-feature", "feature:f" + std::to_string(i % 7), "item:i" + std::to_string(i)), "book");
        graph.reading(graph.claim("has-feature", "feature:g" + std::to_string(i), "item:i0"), "book");
    }
    graph.write();
    IdentifyQuestion question;
    const IdentifyAnswer all = named(graph, {"has-feature feature:f3"}, {}, question);
    CHECK(all.candidates.size() == 3'000);
    CHECK(all.complete);
    question.most_ways = 100;
    CHECK_FALSE(named(graph, {"has-feature feature:f3"}, {}, question).complete);
    question.most_candidates = 50;
    CHECK_FALSE(named(graph, {"has-feature feature:f3"}, {}, question).complete);
}
