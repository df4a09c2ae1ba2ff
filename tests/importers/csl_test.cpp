#include "importers/csl.h"

#include <catch2/catch.hpp>

#include "importers/csl_fields.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("items of CSL-JSON become sources", "[csl]") {
    const Collected read = read_good(R"([
      {"id": "Ennersley 1948", "type": "manuscript", "title": "Working journal",
       "author": [{"family": "Ennersley", "given": "Maud"}, {"literal": "Skerrow Pottery"}],
       "issued": {"date-parts": [[1948, 3, 2]]}, "archive": "Town archive", "archive-place": "Garrow Quay",
       "archive_collection": "Skerrow papers", "archive_location": "3", "call-number": "MS 12", "volume": 4,
       "editor": [{"family": "Kroyden"}],
       "custom": {"type": "journal", "grade": "works-record", "folder": "7", "seen": true}},
      {"id": 12, "type": "book", "issued": {"date-parts": [[1948], [1950]], "circa": true}},
      {"id": "piece:jug-4", "type": "figure", "issued": "1935~"},
      {"id": "s", "type": "periodical", "issued": {"date-parts": [["1948"]], "season": 2}},
      {"id": "r", "type": "book", "issued": {"raw": "early 1950s"}}])",
                                     "b.json");
    const auto sources = read.all<Source>();
    REQUIRE(sources.size() == 5);
    const Source& journal = sources[0];
    CHECK(journal.key == "source:ennersley-1948");
    CHECK(journal.title == "Working journal");
    CHECK(journal.author == "Ennersley, Maud; Skerrow Pottery");
    CHECK(journal.issued == "1948-03-02");
    CHECK(journal.archive == "Town archive");
    CHECK(journal.place == "Garrow Quay");
    CHECK(journal.collection == "Skerrow papers");
    CHECK(journal.box == "3");
    CHECK(journal.folder == "7");
    CHECK(journal.type == "journal");
    CHECK(journal.more == std::vector<std::pair<std::string, std::string>>{{"call-number", "MS 12"},
                                                                           {"editor", R"([{"family":"Kroyden"}])"},
                                                                           {"id", "Ennersley 1948"},
                                                                           {"seen", "true"},
                                                                           {"volume", "4"}});
    CHECK(sources[1].key == "source:12");
    CHECK(sources[1].issued == "1948~/1950~");
    CHECK(sources[2].key == "piece:jug-4");
    CHECK(sources[2].issued == "1935~");
    CHECK(sources[3].issued == "1948-22");
    CHECK(sources[4].issued == "[1950..1953]");
}

TEST_CASE("a date that cannot be read stays, with a warning", "[csl]") {
    Problems problems;
    const Collected read =
        read_text(R"([{"id": "a", "type": "book", "issued": {"literal": "in the old days"}}])", "b.json", problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "csl-date");
    CHECK(problems.list()[0].severity == Severity::warning);
    const Source source = read.only<Source>();
    CHECK(source.issued.empty());
    REQUIRE(source.more.size() == 2);
    CHECK(source.more[0].second == R"({"literal":"in the old days"})");
}

TEST_CASE("the variables are those of the schema", "[csl]") {
    // citation-style-language/schema, schemas/input/csl-data.json, commit 0041266.
    for (const char* name : {"author",
                             "chair",
                             "collection-editor",
                             "compiler",
                             "composer",
                             "container-author",
                             "contributor",
                             "curator",
                             "director",
                             "editor",
                             "editorial-director",
                             "executive-producer",
                             "interviewer",
                             "illustrator",
                             "organizer",
                             "original-author",
                             "performer",
                             "producer",
                             "recipient",
                             "reviewed-author",
                             "translator"}) {
        INFO(name);
        CHECK(csl_type(name) == CslType::names);
    }
    for (const char* name :
         {"accessed", "available-date", "container", "event-date", "issued", "original-date", "submitted"}) {
        INFO(name);
        CHECK(csl_type(name) == CslType::date);
    }
    for (const char* name :
         {"archive", "archive_collection", "archive_location", "archive-place", "call-number", "DOI", "URL", "ISBN",
          "title", "title-short", "page", "volume", "year-suffix", "abstract", "version"}) {
        INFO(name);
        CHECK(csl_type(name) == CslType::text);
    }
    for (const char* name : {"box", "folder", "grade", "custom", ""}) CHECK(csl_type(name) == CslType::unknown);
    for (const char* type :
         {"article", "book", "manuscript", "personal_communication", "webpage", "legal_case", "graphic"}) {
        CHECK(is_csl_item_type(type));
    }
    CHECK_FALSE(is_csl_item_type("journal"));
}

TEST_CASE("authors with particles and suffixes have a text, and keep their parts", "[csl]") {
    Problems problems;
    const std::string parts = R"([{"family":"Berg","given":"Ida","non-dropping-particle":"van den","suffix":"Jr."},{"family":"Orme","given":"Jon","suffix":"III"}])";
    const Source source = read_text(R"([{"id": "a", "type": "book", "author": )" + parts + "}]", "b.json", problems).only<Source>();
    CHECK(problems.list().empty());
    CHECK(source.author == "van den Berg, Ida, Jr.; Orme, Jon, III");
    const auto kept = std::find_if(source.more.begin(), source.more.end(), [](const auto& one) { return one.first == "author"; });
    REQUIRE(kept != source.more.end());
    CHECK(kept->second == parts);
    // A suffix alone is told by the text.
    const Source plain = read_text(R"([{"id": "a", "type": "book", "author": [{"family":"Orme","given":"Jon","suffix":"III"}]}])", "b.json", problems).only<Source>();
    CHECK(plain.author == "Orme, Jon, III");
    CHECK(plain.more == std::vector<std::pair<std::string, std::string>>{{"type", "book"}});
}

TEST_CASE("dates besides that of issue become EDTF where it tells all of them", "[csl]") {
    Problems problems;
    const Source source = read_text(R"([{"id": "a", "type": "book", "issued": {"date-parts": [[2001]], "season": 1}, "accessed": {"date-parts": [[2020, 5, 6]]},
        "original-date": {"raw": "about 1900"}, "event-date": {"date-parts": [["2020", 5]], "literal": "May"}}])", "b.json", problems).only<Source>();
    CHECK(problems.list().empty());
    CHECK(source.issued == "2001-21");  // the season is told, so it is no run of years
    CHECK(source.more == std::vector<std::pair<std::string, std::string>>{{"accessed", "2020-05-06"},
                                                                           {"event-date", R"({"date-parts":[["2020",5]],"literal":"May"})"},
                                                                           {"original-date", "about 1900"},
                                                                           {"type", "book"}});
}
