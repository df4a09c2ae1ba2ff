// BibTeX as pandoc reads it: the same CSL variables from the same entries. What differs on purpose is left out: pandoc
// changes the case of titles and names genres of theses.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/app/command.h"

using saggar::testing::CommandGraph;

namespace {

const char* const books =
    "@string{pub = \"Garrow Press\"}\n"
    "@article{a, author = {Jean-Pierre van der Berg and de la Cruz, Jr., Ana and {Skerrow Pottery Company}}, title = {Shapes \\& glazes},\n"
    "  journal = {Kiln}, volume = 3, number = {2}, pages = {12--15}, year = 1951, month = mar}\n"
    "@book{b, editor = {Orme, Jon}, title = {Strasse}, publisher = pub # { der T{\\\"o}pferstra{\\ss}e, Cie \\'{e}l\\`eve}, address = {Garrow Quay}, year = 1935, edition = {2}, isbn = {1-2}}\n"
    "@incollection{c, author = {Pell, Ida}, title = {Marks}, crossref = {d}, pages = {1--9}}\n"
    "@collection{d, editor = {Orme, Jon}, title = {Papers}, publisher = {P}, location = {Quay}, date = {1931}}\n"
    "@online{e, author = {Pell, Ida}, title = {Web}, url = {http://x.example/~a_b%20c}, urldate = {2020-05-06}, date = {2019-11}}\n"
    "@thesis{f, author = {Pell, Ida}, title = {Thesis}, institution = {University}, type = {essay}, date = {1999-02-03}}\n"
    "@report{g, author = {Pell, Ida}, title = {Report}, institution = {Lab}, number = {7}, date = {1950/1952}, type = {memo}}\n"
    "@patent{h, author = {Pell, Ida}, title = {Glaze}, number = {12}, year = {1939}, month = oct}\n"
    "@article{i, author = {Pell, Ida}, title = {Other}, journaltitle = {Kiln}, doi = {10.1/x_y}, date = {1984~}}\n";

std::string flat(const nlohmann::json& names) {
    std::string out;
    for (const auto& one : names) {
        for (const char* const part : {"dropping-particle", "non-dropping-particle", "family", "literal"})
            if (one.contains(part)) out += one[part].get<std::string>() + " ";
        out += "/" + one.value("given", "") + "/" + one.value("suffix", "") + ";";
    }
    return out;
}

}  // namespace

TEST_CASE("BibTeX entries mean what pandoc takes them for", "[pandoc]") {
    const CommandGraph graph;
    graph.load("b.bib", books);
    const auto ours = nlohmann::json::parse(graph.said("export --format csl-json 2>/dev/null"));
    const auto theirs = nlohmann::json::parse(graph.shell("pandoc -f biblatex -t csljson b.bib"));
    REQUIRE(ours.size() == 9);
    REQUIRE(theirs.size() == 9);
    std::size_t compared = 0;
    for (const auto& mine : ours) {
        for (const auto& other : theirs) {
            if (mine["id"] != other["id"]) continue;
            INFO(mine.dump() << '\n' << other.dump());
            for (const char* const name : {"title", "container-title", "publisher", "publisher-place", "volume", "issue", "page", "URL", "DOI", "ISBN", "number", "edition",
                                           "type", "issued", "accessed"}) {
                if (!other.contains(name) && !mine.contains(name)) continue;
                INFO(name);
                CHECK(mine.value(name, nlohmann::json()) == other.value(name, nlohmann::json()));
                ++compared;
            }
            CHECK(flat(mine.value("author", nlohmann::json::array())) == flat(other.value("author", nlohmann::json::array())));
            CHECK(flat(mine.value("editor", nlohmann::json::array())) == flat(other.value("editor", nlohmann::json::array())));
        }
    }
    CHECK(compared > 45);
}
