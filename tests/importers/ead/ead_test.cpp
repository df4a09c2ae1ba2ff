#include "importers/ead/ead.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect_folder.h"

using namespace saggar;
using namespace saggar::test;

namespace {

std::string more_of(const Source& source, const std::string& field) {
    for (const auto& [name, text] : source.more)
        if (name == field) return text;
    return {};
}

// Laid out as the EAD3 Tag Library (Society of American Archivists, version 1.1) shows its elements; the content is made up.
std::string aid(const std::string& components, const std::string& did = "") {
    return "<ead xmlns=\"http://ead3.archivists.org/schema/\"><control><recordid>aid</recordid></control><archdesc "
           "level=\"collection\">"
           "<did><unittitle>Papers</unittitle>" +
           did + "</did><dsc>" + components + "</dsc></archdesc></ead>";
}

std::string unit(const std::string& did) { return "<c><did><unittitle>A</unittitle>" + did + "</did></c>"; }

// The date of a unit with this element.
std::string issued(const std::string& element) {
    return read_good(aid(unit(element)), "a.xml").all<Source>().at(1).issued;
}

std::string problems_of(const std::string& text) {
    Problems problems;
    ReadOptions options;
    options.format = Format::ead;
    read_text(text, "a.xml", problems, options);
    return all_problems(problems);
}

}  // namespace

TEST_CASE("a finding aid becomes an archive and sources with their places", "[ead]") {
    const Collected read =
        read_good(bytes_of(SAGGAR_SOURCE_DIR "/examples/finding-aid/skerrow-papers.xml"), "skerrow-papers.xml");
    const auto sources = read.all<Source>();
    REQUIRE(sources.size() == 5);
    const Source& papers = sources[0];
    CHECK(papers.key == "source:skerrow-papers");
    CHECK(papers.title == "Papers of the Skerrow Pottery Company");
    CHECK(papers.issued == "1919/1968");  // not the bulk dates
    CHECK(papers.archive == "Marnhaven Record Office");
    CHECK(papers.place == "Marnhaven");
    CHECK(papers.rights == "Quote with the reference; photographs by leave.");
    CHECK(more_of(papers, "call-number") == "MRO/SK");
    CHECK(more_of(papers, "extent") == "31 boxes");
    CHECK(more_of(papers, "level") == "collection");
    const Source& letters = sources[2];
    CHECK(letters.key == "source:skerrow-papers-mro-sk-4-1");
    CHECK(letters.archive == "Marnhaven Record Office");
    CHECK(letters.collection == "Papers of the Skerrow Pottery Company");
    CHECK(letters.box == "12");  // of the series above
    CHECK(letters.folder == "3");
    CHECK(letters.issued == "1936~/1938~");
    CHECK(more_of(letters, "series") == "Sales office");
    CHECK(more_of(letters, "abstract") ==
          "Letters of Northern Provident and Harbour Hotels, with drafts of the answers.");
    const Source& book = sources[3];
    CHECK(book.box == "13");
    CHECK(book.folder.empty());
    CHECK(book.author == "Clement Ordley");
    CHECK(book.issued == "1946/1949");
    CHECK(sources[4].is_private);  // audience="internal"
    CHECK_FALSE(sources[3].is_private);
    CHECK(sources[4].issued.empty());
    CHECK(read.only<Entity>().key == "archive:marnhaven-record-office");
    CHECK(read.only<Claim>().object.text == "archive:marnhaven-record-office");
    CHECK(read.only<Evidence>().source == "source:skerrow-papers");
}

TEST_CASE("dates of units go through the reader of written dates", "[ead]") {
    CHECK(issued("<unitdate>1936</unitdate>") == "1936");
    CHECK(issued("<unitdate>c. 1931-34</unitdate>") == "1931~/1934~");
    CHECK(issued("<unitdate>early 1950s</unitdate>") ==
          read_good("key,issued\nsource:a,early 1950s\n", "s.csv").only<Source>().issued);
    CHECK(issued("<unitdate normal=\"1936/1944\">in the years of the long kiln</unitdate>") == "1936/1944");
    CHECK(
        issued("<unitdatestructured><datesingle standarddate=\"1936-05\">May 1936</datesingle></unitdatestructured>") ==
        "1936-05");
    CHECK(issued("<unitdatestructured><daterange><fromdate>1936</fromdate><todate>1938</todate></daterange></"
                 "unitdatestructured>") == "1936/1938");
    CHECK(issued("<unitdatestructured><dateset><daterange><fromdate standarddate=\"1936\"/><todate "
                 "standarddate=\"1938\"/></daterange></dateset></unitdatestructured>") == "1936/1938");
    CHECK(issued("<unitdate>n.d.</unitdate>").empty());
    Problems problems;
    const Collected odd = read_text(aid(unit("<unitdate>when the kiln\n fell in</unitdate>")), "a.xml", problems);
    CHECK(problems.errors() == 0);
    CHECK_THAT(all_problems(problems), Catch::Contains("a.xml:1:") &&
                                           Catch::Contains("the date \"when the kiln fell in\" cannot be read") &&
                                           Catch::Contains("^~~~~~~~"));
    CHECK(more_of(odd.all<Source>().at(1), "date") == "when the kiln fell in");
}

TEST_CASE("components keep apart, with or without numbers and ids", "[ead]") {
    const Collected read = read_good(
        aid("<c01><did><unittitle>A</unittitle></did><c02 id=\"x 1\"><did><unittitle>B</unittitle></did></c02></c01>"
            "<c01><did><unittitle>C</unittitle><unitid>7</unitid></did></c01><c><did><unittitle>D</"
            "unittitle><unitid>7</unitid></did></c>"),
        "a.xml");
    std::string keys;
    for (const Source& source : read.all<Source>()) keys += source.key + " ";
    CHECK(keys == "source:aid source:aid-1 source:aid-x-1 source:aid-7 source:aid-no-3 ");
    const Collected prefixed = read_good(
        "<e:ead xmlns:e=\"http://ead3.archivists.org/schema/\"><e:control><e:recordid>p</e:recordid></e:control>"
        "<e:archdesc><e:did><e:unittitle>A &amp; <e:emph>B</e:emph></e:unittitle></e:did></e:archdesc></e:ead>",
        "a.xml");
    CHECK(prefixed.only<Source>().title == "A & B");
}

TEST_CASE("what is wrong with a finding aid is said with line and column", "[ead]") {
    CHECK_THAT(problems_of("<ead>\n<control>\n  </ead>"),
               Catch::Contains("a.xml:3:") && Catch::Contains("[xml-unsound]"));
    CHECK_THAT(problems_of("<ead xmlns=\"urn:isbn:1-931666-22-9\">\n <eadheader/></ead>"),
               Catch::Contains("a.xml:2:3: error: this is EAD 2002") && Catch::Contains("^~~~~~~~~"));
    CHECK_THAT(problems_of("<html/>"),
               Catch::Contains("a.xml:1:2: error: the root element is \"html\", not ead [ead-root]"));
    CHECK_THAT(problems_of("<ead><control/></ead>"), Catch::Contains("[ead-no-description]"));
    CHECK_THAT(problems_of("<ead><control/><archdesc/></ead>"), Catch::Contains("[ead-no-record-id]"));
    CHECK_THAT(problems_of(aid("<c><did/></c>")), Catch::Contains("warning: a unit has no title"));
    CHECK_THAT(problems_of(""), Catch::Contains("error"));
}

TEST_CASE("entities and deep nesting are refused", "[ead]") {
    // XML 1.0, 4.2.2: an external entity would be read from elsewhere.
    CHECK_THAT(problems_of("<!DOCTYPE ead [\n<!ENTITY x SYSTEM \"file:///etc/passwd\">]>\n<ead>&x;</ead>"),
               Catch::Contains("a.xml:2:1: error: the file declares entities") && Catch::Contains("[xml-entity]"));
    std::string deep, end;
    for (int i = 0; i < 200'000; ++i) deep += "<c>";
    for (int i = 0; i < 200'000; ++i) end += "</c>";
    CHECK_THAT(problems_of(aid(deep + end)), Catch::Contains("[xml-deep]"));
    CHECK_FALSE(problems_of(deep).empty());
}
