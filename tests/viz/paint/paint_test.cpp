#include "viz/paint/paint.h"

#include <catch2/catch.hpp>

#include "../sample.h"
#include "kg/model/fault.h"
#include "viz/svg.h"

using namespace saggar;
using namespace saggar::viz;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

// Width and height stand as big-endian numbers at byte 16 and 20 of the IHDR chunk: PNG (ISO/IEC 15948), section
// 11.2.2.
unsigned png_number(const std::string& png, std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png.at(at + i));
    return value;
}

const char* kSmall =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"96\" height=\"48\"><rect width=\"96\" height=\"48\"/></svg>";

}  // namespace

TEST_CASE("a PNG is as large as print needs") {
    const auto png = svg_to_png(kSmall, 300);
    REQUIRE_THAT(png, StartsWith("\x89PNG\r\n\x1A\n"));
    CHECK(png_number(png, 16) == 300);
    CHECK(png_number(png, 20) == 150);
}

TEST_CASE("a PDF is one page of the picture's size and holds no time") {
    const auto pdf = svg_to_pdf(to_svg(sample::chain()));
    REQUIRE_THAT(pdf, StartsWith("%PDF-"));
    CHECK_THAT(pdf, Contains("/CreationDate (D:19700101"));
    CHECK(pdf == svg_to_pdf(to_svg(sample::chain())));
    CHECK_THAT(svg_to_pdf(kSmall), Contains("/MediaBox [ 0 0 72 36 ]"));
}

TEST_CASE("hostile labels do not stop the painter") {
    const auto svg = to_svg(sample::labels(sample::hostile()));
    CHECK_THAT(svg_to_png(svg, 96), StartsWith("\x89PNG"));
    CHECK_THAT(svg_to_pdf(svg), StartsWith("%PDF-"));
}

TEST_CASE("what is no picture or too large is refused") {
    CHECK_THROWS_AS(svg_to_pdf("<html/>"), LimitFault);
    CHECK_THROWS_AS(svg_to_png("", 300), LimitFault);
    CHECK_THROWS_WITH(svg_to_png("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9000\" height=\"9000\"/>", 300),
                      Contains("too large for PNG"));
}
