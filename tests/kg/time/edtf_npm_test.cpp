// A second opinion: first and last day of many dates as the npm package edtf 4.11.1 sees them.
//
// The expected days are in tests/reference/edtf_npm.json, written by tests/reference/edtf_npm.mjs, which also says
// which dates are left out and why. Where node and the package are there, another test checks that file against the
// package.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "kg/time/edtf_read.h"
#include "kg/time/span.h"

using namespace saggar::time;

TEST_CASE("npm edtf 4.11.1 sees the same first and last days") {
    std::ifstream file(std::string(SAGGAR_SOURCE_DIR) + "/tests/reference/edtf_npm.json");
    REQUIRE(file);
    const auto document = nlohmann::json::parse(file);
    CHECK(document.at("package") == "edtf 4.11.1");
    REQUIRE(document.at("dates").size() > 1000);
    for (const auto& row : document.at("dates")) {
        const std::string text = row.at("text");
        INFO(text);
        const auto edtf = read_edtf(text);
        REQUIRE(edtf);
        const Span span = span_of(*edtf);
        CHECK(to_text(span.earliest) == row.at("first").get<std::string>());
        CHECK(to_text(span.latest) == row.at("last").get<std::string>());
    }
}
