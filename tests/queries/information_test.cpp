// Information gains against the worked example of Quinlan, and what must hold of any.
#include "queries/information.h"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <numeric>

using namespace saggar;

namespace {

// Counts of (P, N) for each value of an attribute, as chances of the value given the class.
double gain(const std::vector<std::pair<double, double>>& counts) {
    std::vector<std::vector<double>> answers;
    for (const auto& [p, n] : counts) answers.push_back({p / 9, n / 5});
    return information_gain({9, 5}, answers);
}

}  // namespace

// Quinlan, "Induction of decision trees", Machine Learning 1 (1986), table 1 (fourteen Saturday mornings, nine P and five
// N) and section 4: I(9,5) = 0.940, gains of outlook 0.246, temperature 0.029, humidity 0.151, windy 0.048. To five digits
// the first and third are .24675 and .15184 (worked out from the table), so that rounding gives .247 and .152.
TEST_CASE("the weather table has the gains that were published", "[information]") {
    CHECK(entropy({9, 5}) == Approx(.940).margin(.0005));
    CHECK(gain({{2, 3}, {4, 0}, {3, 2}}) == Approx(.24675).margin(.00001));  // sunny, overcast, rain
    CHECK(gain({{2, 2}, {4, 2}, {3, 1}}) == Approx(.029).margin(.0005));     // hot, mild, cool
    CHECK(gain({{3, 4}, {6, 1}}) == Approx(.15184).margin(.00001));          // high, normal
    CHECK(gain({{3, 3}, {6, 2}}) == Approx(.048).margin(.0005));             // windy, not
}

TEST_CASE("an answer that tells everything is worth the whole entropy, one that tells nothing is worth nothing", "[information]") {
    CHECK(information_gain({1, 1, 1, 1}, {{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}}) == Approx(2));
    CHECK(information_gain({.7, .2, .1}, {{.3, .3, .3}, {.7, .7, .7}}) == Approx(0).margin(1e-12));
    CHECK(entropy({}) == 0);
    CHECK(entropy({0, 0}) == 0);
    CHECK(information_gain({0, 0}, {{1, 0}, {0, 1}}) == 0);
}

TEST_CASE("a gain is neither negative nor more than the entropy, and no more than what the answer can carry", "[information]") {
    CHECK(rc::check("gains", [] {
        const auto n = *rc::gen::inRange<std::size_t>(1, 9);
        std::vector<double> prior, yes, no;
        for (std::size_t i = 0; i < n; ++i) {
            prior.push_back(*rc::gen::inRange(0, 100));
            yes.push_back(*rc::gen::inRange(0, 101) / 100.0);
            no.push_back(1 - yes.back());
        }
        const double value = information_gain(prior, {yes, no});
        RC_ASSERT(value >= 0);
        RC_ASSERT(value <= entropy(prior) + 1e-9);
        RC_ASSERT(value <= 1 + 1e-9);
        RC_ASSERT(std::abs(value - information_gain(prior, {no, yes})) < 1e-12);
    }));
}
