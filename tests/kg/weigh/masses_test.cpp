#include "kg/weigh/masses.h"

#include <catch2/catch.hpp>

#include "kg/weigh/profile.h"

using namespace saggar;

TEST_CASE("support and possibility leave the contradiction out", "[masses]") {
    // Two flatly opposed witnesses of .9 (Shafer, "Perspectives on the theory and practice of belief functions", 1990).
    const Masses masses{.09, .09, .81, .01};
    CHECK(*masses.support() == Approx(.4737).margin(5e-5));
    CHECK(*masses.possibility() == Approx(1 - .4737).margin(5e-5));
    CHECK(*masses.of_denial().support() == Approx(1 - *masses.possibility()));
    CHECK_FALSE(Masses{0, 0, 1, 0}.support());
    CHECK(*Masses{}.support() == 0);
    CHECK(*Masses{}.possibility() == 1);
}

TEST_CASE("contradiction is told in four steps, a limit belonging to the step above", "[masses]") {
    const Profile& profile = Profile::standard();
    CHECK(clarity_of(.0999, profile) == Clarity::clear);
    CHECK(clarity_of(.1, profile) == Clarity::contested);
    CHECK(clarity_of(.5, profile) == Clarity::contradictory);
    CHECK(clarity_of(.9, profile) == Clarity::no_figure);
    CHECK(word_for(Clarity::contradictory) == "contradictory");
}

TEST_CASE("the betting figure is the base rate updated by the possibilities", "[masses]") {
    // A dealer of .8, base rate .005: .005 / (.005 + .995 * .2) = .0245. Derived by hand.
    const Masses dealer{.8, 0, 0, .2};
    CHECK(*betting_figure(dealer, .005) == Approx(.0245).margin(5e-5));
    CHECK(*betting_figure(Masses{}, .3) == Approx(.3));
    CHECK(*betting_figure(Masses{.09, .09, .81, .01}, .2) == Approx(.2));
    CHECK_FALSE(betting_figure(Masses{0, 0, 1, 0}, .5));
}

TEST_CASE("a figure has no more digits than it carries", "[masses]") {
    CHECK(figure_text(.47368, 0) == "0.474");
    CHECK(figure_text(.47368, .01) == "0.47");
    CHECK(figure_text(.47368, .0099) == "0.47");
    CHECK(figure_text(.47368, .05) == "0.5");
    CHECK(figure_text(.47368, .3) == "0.5");
}
