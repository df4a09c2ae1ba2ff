#include "app/text/help.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "app/args.h"
#include "app/text/layout.h"
#include "app/verbs/verbs.h"

using namespace saggar::app;

TEST_CASE("help is wrapped under its own column") {
    CHECK(fitted_help("  --least N   claims supported less than this do not bind\nshort\n", 40) ==
          "  --least N   claims supported less than\n"
          "              this do not bind\nshort\n");
    CHECK(fitted_help("Every claim that dates the thing bounds it.", 24) ==
          "Every claim that dates\nthe thing bounds it.");
    CHECK(fitted_help("Example: saggar trace line:northern --to x", 24) ==
          "Example: saggar\n    trace line:northern\n    --to x");
    CHECK(fitted_help("", 80).empty());
}

TEST_CASE("the help of every verb fits eighty columns and has no escape codes") {
    std::vector<std::vector<std::string>> calls = {{"--help"}};
    for (const auto& verb : verbs()) calls.push_back({verb.name, "--help"});
    for (const auto& words : calls) {
        std::ostringstream out, err;
        CHECK(run(words, out, err) == 0);
        std::istringstream lines(out.str());
        CHECK(out.str().find('\x1b') == std::string::npos);
        for (std::string line; std::getline(lines, line);) {
            INFO(line);
            CHECK((cells(line) <= layout_of_terminal().width || line.find(' ', 40) == std::string::npos));
        }
    }
}
