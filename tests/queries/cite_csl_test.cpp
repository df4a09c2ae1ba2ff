#include "queries/cite_csl.h"

#include <catch2/catch.hpp>

#include "queries/cite.h"

using namespace saggar;

// Forms: CSL-JSON, schemas/input/csl-data.json of the Citation Style Language project (name-variable, date-variable).
TEST_CASE("names and dates kept as JSON are read") {
    CHECK(names_for_note(csl_names(R"([{"family":"Orme","given":"Jon"},{"literal":"Works Office"}])")) ==
          "Jon Orme and Works Office");
    CHECK(names_for_note(csl_names(R"([{"family":"Berg","given":"Ada","non-dropping-particle":"van den"}])")) ==
          "Ada van den Berg");
    CHECK(names_for_note(csl_names("Orme, Jon")) == "Jon Orme");
    CHECK(csl_names("[").empty() == false);  // no JSON: taken as it was written
    CHECK(csl_names("[1, {}]").empty());
    CHECK(csl_date(R"({"date-parts":[[2021,5,3]]})") == "2021-05-03");
    CHECK(csl_date(R"({"date-parts":[["1936"]],"circa":true})") == "1936~");
    CHECK(csl_date(R"({"date-parts":[[1936],[1944]]})") == "1936/1944");
    CHECK(csl_date(R"({"raw":"in spring"})") == "in spring");
    CHECK(csl_date("2021-05-03") == "2021-05-03");
}

TEST_CASE("a source read from CSL-JSON is cited by its CSL type where it has none of ours") {
    Source s;
    s.title = "The Grocers";
    s.author = "Quill, Ada";
    s.issued = "1990";
    s.more = {{"container-title", "Ware and Trade"},
              {"editor", R"([{"family":"Orme","given":"Jon"}])"},
              {"publisher", "Plain Press"},
              {"type", "chapter"}};
    CHECK(to_plain(full_note(s)) ==
          "Ada Quill, \u201CThe Grocers,\u201D in Ware and Trade, ed. Jon Orme (Plain Press, 1990).");
}
