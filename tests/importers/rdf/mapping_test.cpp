#include "importers/rdf/mapping.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::rdf;

namespace {

std::string complaint(const std::string& document) {
    Problems problems;
    const auto mapping = Mapping::read(document, "m.json", Vocabulary::standard(), false, problems);
    CHECK(mapping.has_value() == !problems.any_error());
    return problems.list().empty() ? "" : problems.list().front().id;
}

}  // namespace

TEST_CASE("the default mapping names only kinds and relations of the standard vocabulary", "[rdf][mapping]") {
    CHECK(complaint(std::string(Mapping::default_document())) == "");
}

TEST_CASE("a wrong mapping is refused with the place", "[rdf][mapping]") {
    CHECK(complaint("[]") == "mapping-no-object");
    CHECK(complaint("{\"kind\": {}}") == "mapping-unknown-part");
    CHECK(complaint("{\"kinds\": []}") == "mapping-wrong-type");
    CHECK(complaint("{\"kinds\": {\"crm:E21_Person\": \"persno\"}}") == "kind-unknown");
    CHECK(complaint("{\"kinds\": {\"E21\": \"person\"}}") == "mapping-no-iri");
    CHECK(complaint("{\"kinds\": {\"nowhere:E21\": \"person\"}}") == "mapping-no-iri");
    CHECK(complaint("{\"relations\": {\"crm:P14_carried_out_by\": \"mad-by\"}}") == "relation-unknown");
    CHECK(complaint("{\"relations\": {\"crm:P14_carried_out_by\": 5}}") == "mapping-wrong-type");
    CHECK(complaint("{\"fields\": {\"rdfs:label\": \"name\"}}") == "mapping-unknown-field");
    CHECK(complaint("{\"fields\": {\"rdfs:label\": \"key\"}}") == "mapping-unknown-field");
    CHECK(complaint("{\"paths\": [{\"steps\": [\"crm:P1_a\"], \"relation\": \"made-by\"}]}") == "mapping-path");
    CHECK(complaint("{\"paths\": [{\"steps\": [\"crm:P1_a\", \"crm:P2_b\"]}]}") == "mapping-path");
    CHECK(complaint("{\"times\": {\"middle\": []}}") == "mapping-unknown-part");
    CHECK(complaint("{\"evidence\": {\"mood\": []}}") == "mapping-unknown-field");
    CHECK(complaint("{\"unmapped\": \"perhaps\"}") == "mapping-unmapped");
    CHECK(complaint("{\"kinds\": {\"a\": \"person\", \"a\": \"place\"}}").substr(0, 5) == "json-");
    CHECK(complaint(std::string(100, '[')).substr(0, 5) == "json-");
}

TEST_CASE("the longest start of an IRI gives the kind", "[rdf][mapping]") {
    Problems problems;
    const auto mapping = Mapping::read(R"({"prefixes": {"x": "http://x.example/"}, "keys": {"x:": "piece", "x:people/": "person"},
        "relations": {"x:maker": ["made-by", "painted-by"]}})",
                                       "m.json", Vocabulary::standard(), false, problems);
    REQUIRE(mapping);
    CHECK(mapping->kind_of_iri("http://x.example/people/maud")->first == "person");
    CHECK(mapping->kind_of_iri("http://x.example/people/maud")->second == "maud");
    CHECK(mapping->kind_of_iri("http://x.example/7")->first == "piece");
    CHECK_FALSE(mapping->kind_of_iri("http://y.example/7"));
    CHECK(mapping->use_of("<http://x.example/maker>")->relations.size() == 2);
    CHECK(mapping->use_of("<http://x.example/none>") == nullptr);
}

// The names and where they come from stand at the head of published-names.txt.
TEST_CASE("every published name in the built-in mapping exists", "[rdf][mapping]") {
    std::set<std::string> known;
    std::ifstream in(std::string(SAGGAR_SOURCE_DIR) + "/tests/importers/rdf/published-names.txt");
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        for (std::string word; line[0] != '#' && words >> word;) known.insert(word);
    }
    const std::string document(Mapping::default_document());
    const std::regex name("\"\\^?((crm|crminf|prov|skos|dcterms|np):[A-Za-z0-9_-]+)\"");
    std::size_t count = 0;
    for (auto at = std::sregex_iterator(document.begin(), document.end(), name); at != std::sregex_iterator(); ++at) {
        INFO((*at)[1].str());
        CHECK(known.count((*at)[1].str()) == 1);
        ++count;
    }
    CHECK(count > 100);
}
