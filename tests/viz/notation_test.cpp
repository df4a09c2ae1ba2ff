#include "viz/notation.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace saggar::viz;

// Bounds: Intelligence Community Directive 203 (2015), table of likelihood words; a bound belongs to the band above.
TEST_CASE("bands change where likelihood words change") {
    CHECK(band_of(1) == Band::strong);
    CHECK(band_of(0.80) == Band::strong);
    CHECK(band_of(0.7999) == Band::fair);
    CHECK(band_of(0.55) == Band::fair);
    CHECK(band_of(0.5499) == Band::weak);
    CHECK(band_of(0.20) == Band::weak);
    CHECK(band_of(0.1999) == Band::faint);
    CHECK(band_of(0) == Band::faint);
}

TEST_CASE("a weight is never rounded to certainty") {
    CHECK(weight_text(0.874) == "0.87");
    CHECK(weight_text(0.999) == ">0.99");
    CHECK(weight_text(0.001) == "<0.01");
    CHECK(weight_text(1) == "1.00");
    CHECK(weight_text(0) == "0.00");
}

TEST_CASE("citation numbers are sorted and runs drawn together") {
    CHECK(numbers_text({}).empty());
    CHECK(numbers_text({3}) == "[3]");
    CHECK(numbers_text({2, 1}) == "[1, 2]");
    CHECK(numbers_text({5, 1, 2, 3, 7, 5}) == "[1-3, 5, 7]");
}

TEST_CASE("kinds share outlines by the class their vocabulary maps them to") {
    CHECK(outline_of_class("crm:E21_Person") == Outline::pill);
    CHECK(outline_of_class("crm:E39_Actor") == Outline::lintel);
    CHECK(outline_of_class("my:Unknown") == Outline::box);
}

// Contrast: Web Content Accessibility Guidelines 2.2, success criterion 1.4.3, relative luminance as defined there.
TEST_CASE("text stands out from the paper at 4.5 to 1 and more, marks at 3 to 1") {
    const auto luminance = [](std::string_view hex) {
        double sum = 0;
        const double part[] = {0.2126, 0.7152, 0.0722};
        for (int i = 0; i < 3; ++i) {
            const double c =
                std::stoi(std::string(hex.substr(1 + 2 * static_cast<std::size_t>(i), 2)), nullptr, 16) / 255.0;
            sum += part[i] * (c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
        }
        return sum;
    };
    const auto on_paper = [&](std::string_view hex) { return 1.05 / (luminance(hex) + 0.05); };
    CHECK(on_paper(colour::ink) > 4.5);
    CHECK(on_paper(colour::grey) > 4.5);
    for (const auto tint : {colour::blue, colour::vermillion, colour::bluish_green}) CHECK(on_paper(tint) > 3);
}
