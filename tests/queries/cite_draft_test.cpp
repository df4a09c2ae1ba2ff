#include "queries/cite_draft.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("a draft's links and claim ids are found in order") {
    CHECK(names_in_draft("The [Lantern](shape:lantern) was [hers](claim:7k3abcde), see claim:7k3abcde and "
                         "(claim:zzzz1).\n[Lantern](shape:lantern \"title\")") ==
          std::vector<std::string>{"shape:lantern", "claim:7k3abcde", "claim:zzzz1"});
    CHECK(
        names_in_draft("[page](https://example.org/a) [mail](mailto:x@y.z) disclaim:7k3abcde claim:ab []( ](").empty());
    CHECK(names_in_draft("").empty());
}
