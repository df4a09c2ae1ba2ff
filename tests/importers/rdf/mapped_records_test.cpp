#include "importers/rdf/mapped_records.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <random>
#include <sstream>

#include "importers/rdf/quad_reader.h"
#include "tests/importers/collect.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using namespace saggar::test;

namespace {

const std::string head = R"(
@prefix crm: <http://www.cidoc-crm.org/cidoc-crm/> .
@prefix crminf: <http://www.cidoc-crm.org/extensions/crminf/> .
@prefix prov: <http://www.w3.org/ns/prov#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .
@prefix x: <https://x.example/> .
)";

std::string example(const std::string& name) {
    std::ifstream in(std::string(SAGGAR_SOURCE_DIR) + "/examples/rdf/" + name);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

// What was read, as sorted lines of JSON.
std::vector<std::string> lines_of(const Collected& read) {
    std::vector<std::string> lines;
    for (const Record& record : read.records) lines.push_back(to_json_line(record));
    std::sort(lines.begin(), lines.end());
    return lines;
}

Claim claim_about(const Collected& read, const std::string& relation) {
    for (const Claim& claim : read.all<Claim>()) {
        if (claim.relation == relation) return claim;
    }
    return {};
}

Evidence evidence_of(const Collected& read, const Claim& claim) {
    for (const Evidence& evidence : read.all<Evidence>()) {
        if (evidence.claim == id_of(claim)) return evidence;
    }
    return {};
}

}  // namespace

TEST_CASE("a production in CIDOC CRM becomes claims with the source of its graph", "[rdf][mapped]") {
    Problems problems;
    const Collected read = read_text(example("cabinet.trig"), "cabinet.trig", problems);
    CHECK_FALSE(problems.any_error());
    REQUIRE(problems.warnings() == 1);  // cab:shelf
    CHECK(problems.list()[0].id == "rdf-not-mapped");
    CHECK(problems.list()[0].place.line == 28);
    CHECK(claim_about(read, "made-in-year").object == Value{Value::Type::date, "[1935..1938]", ""});
    CHECK(claim_about(read, "measures").object == Value{Value::Type::number, "18.5", "cm"});
    const Claim painted = claim_about(read, "painted-by");
    CHECK(painted.object.text == "person:maud");
    const Evidence evidence = evidence_of(read, painted);
    CHECK(evidence.source == "source:card-index");
    CHECK(evidence.recorded_by == "keeper");
    CHECK(evidence.at == "graph https://cabinet.example/record-7");
    CHECK(evidence.stance == Stance::in_favour);
    const Evidence denied = evidence_of(read, claim_about(read, "bears-mark"));
    CHECK(denied.stance == Stance::against);
    CHECK(denied.source == "source:letter-1951");
}

TEST_CASE("the order of statements does not matter, nor the syntax", "[rdf][mapped]") {
    const std::string trig = example("cabinet.trig");
    Problems problems;
    std::vector<std::string> statements;
    TextInput input("c", open_bytes(trig), problems);
    rdf::read_quads(input, {rdf::Syntax::trig, ""}, [&](const rdf::Quad& quad, const rdf::Spot&) { statements.push_back(rdf::nquads_line(quad)); },
                    problems);
    ReadOptions options;
    options.source = "source:cabinet";
    const auto wanted = lines_of(read_text(trig, "cabinet.trig", problems, options));
    std::mt19937 random(20260101);
    for (int round = 0; round < 20; ++round) {
        std::shuffle(statements.begin(), statements.end(), random);
        std::string text;
        for (const std::string& line : statements) text += line;
        CHECK(lines_of(read_text(text, "cabinet.nq", problems, options)) == wanted);
    }
    CHECK_FALSE(problems.any_error());
}

TEST_CASE("without a source of its own the file is the source", "[rdf][mapped]") {
    const std::string text = head + "x:m7 a crm:E22_Human-Made_Object ; crm:P65_shows_visual_item x:anchor . x:anchor a crm:E37_Mark .";
    const Collected read = read_good(text, "Cabinet 1951.ttl");
    CHECK(read.only<Source>().key == "source:cabinet-1951-ttl");
    CHECK(read.only<Source>().title == "Cabinet 1951.ttl");
    CHECK(read.only<Evidence>().source == "source:cabinet-1951-ttl");
    CHECK(read.only<Evidence>().quote == "<http://www.cidoc-crm.org/cidoc-crm/P65_shows_visual_item> <https://x.example/anchor>");
    ReadOptions options;
    options.source = "source:cabinet";
    CHECK(read_good(text, "c.ttl", options).only<Evidence>().source == "source:cabinet");
}

TEST_CASE("names and notes of SKOS and Dublin Core become fields", "[rdf][mapped]") {
    const Collected read = read_good(head + R"(
x:teapot a skos:Concept ; skos:prefLabel "teapot"@en , "Teekanne"@de ; skos:altLabel "pot"@en ; skos:definition "For tea." ; skos:notation "A1" .
x:guide a dcterms:BibliographicResource ; dcterms:title "A guide" ; dcterms:creator "Quance, Hester" ; dcterms:issued "1951" ;
    dcterms:references x:teapot .
)",
                                     "k.ttl");
    const auto entities = read.all<Entity>();
    const auto teapot = std::find_if(entities.begin(), entities.end(), [](const Entity& one) { return one.key == "article:teapot"; });
    REQUIRE(teapot != entities.end());
    CHECK(teapot->label == Name{"teapot", "en"});
    CHECK(teapot->also == std::vector<Name>{{"Teekanne", "de"}, {"pot", "en"}});
    CHECK(teapot->remark == "For tea.");
    CHECK(teapot->identifiers == std::vector<std::string>{"A1", "https://x.example/teapot"});
    const auto sources = read.all<Source>();
    const auto guide = std::find_if(sources.begin(), sources.end(), [](const Source& one) { return one.key == "source:guide"; });
    REQUIRE(guide != sources.end());
    CHECK(guide->title == "A guide");
    CHECK(guide->author == "Quance, Hester");
    CHECK(guide->issued == "1951");
    CHECK(claim_about(read, "documents").object.text == "article:teapot");
}

TEST_CASE("what cannot be said is told, once for each property or class", "[rdf][mapped]") {
    Problems problems;
    const Collected read = read_text(head + R"(
x:a x:unknown 1 . x:b x:unknown 2 .
x:c a x:Strange ; rdfs:label "c" .
x:d crm:P50_has_current_keeper x:e .
x:p1 a crm:E21_Person ; crm:P65_shows_visual_item x:mark . x:mark a crm:E37_Mark .
)",
                                     "a.ttl", problems);
    CHECK_FALSE(problems.any_error());
    CHECK(read.all<Claim>().empty());
    std::string all = all_problems(problems);
    CHECK(all.find("passed over, 2 times: property <https://x.example/unknown>") != std::string::npos);
    CHECK(all.find("class <https://x.example/Strange>") != std::string::npos);
    CHECK(all.find("P50_has_current_keeper> whose subject has no known kind") != std::string::npos);
    CHECK(all.find("P65_shows_visual_item> whose ends are of kinds that it does not join") != std::string::npos);
    CHECK(problems.warnings() == 4);
}

TEST_CASE("two things that become one key are told", "[rdf][mapped]") {
    Problems problems;
    read_text(head + "<https://x.example/1/jug> a crm:E22_Human-Made_Object . <https://x.example/2/jug> a crm:E22_Human-Made_Object .", "a.ttl", problems);
    REQUIRE(problems.warnings() == 1);
    CHECK(problems.list()[0].id == "rdf-same-key");
}

TEST_CASE("a value that cannot be read is an error at its place", "[rdf][mapped]") {
    Problems problems;
    read_text(head + "x:m7 a crm:E22_Human-Made_Object ;\n  dcterms:created \"some time ago\" .", "a.ttl", problems);
    REQUIRE(problems.any_error());
    const Problem& problem = problems.list()[0];
    CHECK(problem.place.line == 11);
    CHECK(problem.place.column == 20);
    CHECK(problem.place.text.find("some time ago") != std::string::npos);
}

TEST_CASE("a mapping of one's own, with kinds by IRI and inverse names", "[rdf][mapped]") {
    saggar::testing::TemporaryFolder folder;
    ReadOptions options;
    options.map = folder.path() / "map.json";
    std::ofstream(options.map) << R"({"prefixes": {"x": "https://x.example/"},
        "keys": {"x:shape/": "shape", "x:person/": "person"}, "relations": {"x:designed": "designed", "x:year": "introduced-in"},
        "evidence": {"source": ["x:from"], "certainty": ["x:how-sure"]}, "unmapped": "pass"})";
    const Collected read = read_good(R"(<https://x.example/person/maud> <https://x.example/designed> <https://x.example/shape/lantern> <https://x.example/g> .
<https://x.example/shape/lantern> <https://x.example/year> "about 1935" <https://x.example/g> .
<https://x.example/g> <https://x.example/from> "The guide" .
<https://x.example/g> <https://x.example/how-sure> "possibly" .
<https://x.example/g> <https://x.example/other> "x" .
)",
                                     "a.nq", options);
    CHECK(claim_about(read, "designed-by").subject == "shape:lantern");
    CHECK(claim_about(read, "introduced-in").object.text == "1935~");
    CHECK(evidence_of(read, claim_about(read, "designed-by")).source == "source:the-guide");
    CHECK(evidence_of(read, claim_about(read, "designed-by")).certainty == "possibly");
}

TEST_CASE("the middle of a path is bounded", "[rdf][mapped]") {
    std::string text;
    for (std::size_t i = 0; i < rdf::MappedRecords::most_together + 5; ++i)
        text += "<https://x.example/p" + std::to_string(i) + "> <http://www.cidoc-crm.org/cidoc-crm/P108i_was_produced_by> <https://x.example/e> .\n";
    Problems problems;
    read_text(text, "a.nt", problems);
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "rdf-too-many");
}

// CIDOC CRM 7.1.1, E13 Attribute Assignment: the act assigns to P140 the attribute P141 by the property P177.
TEST_CASE("an attribute assignment becomes the statement it makes, with the source and maker of the act", "[rdf][mapped]") {
    const Collected read = read_good(head + R"(
x:jug a crm:E22_Human-Made_Object . x:maud a crm:E21_Person . x:cards a crm:E31_Document . x:anchor a crm:E37_Mark .
x:act1 a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:jug ; crm:P141_assigned x:anchor ;
    crm:P177_assigned_property_of_type crm:P65_shows_visual_item ; crm:P70i_is_documented_in x:cards ; crm:P14_carried_out_by x:maud ;
    crm:P4_has_time-span [ crm:P82a_begin_of_the_begin "1951-01-01"^^xsd:date ; crm:P82b_end_of_the_end "1951-12-31"^^xsd:date ] .
x:act2 a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:jug ; crm:P177_assigned_property_of_type crm:P43_has_dimension ;
    crm:P141_assigned [ crm:P90_has_value 18.5 ; crm:P91_has_unit "cm" ] ; crm:P70i_is_documented_in x:cards .
# The production and the assignment of its time: a path whose second step an act says.
x:jug crm:P108i_was_produced_by x:making . x:making a crm:E12_Production .
x:act3 a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:making ; crm:P177_assigned_property_of_type crm:P4_has_time-span ;
    crm:P141_assigned [ crm:P82a_begin_of_the_begin "1935-01-01"^^xsd:date ; crm:P82b_end_of_the_end "1938-12-31"^^xsd:date ] ;
    crm:P70i_is_documented_in x:cards .
)",
                                     "acts.ttl");
    CHECK(read.all<Claim>().size() == 3);
    const Claim mark = claim_about(read, "bears-mark");
    CHECK(mark.subject == "piece:jug");
    CHECK(mark.object.text == "mark:anchor");
    CHECK(evidence_of(read, mark).source == "source:cards");
    CHECK(evidence_of(read, mark).recorded_by == "maud");
    CHECK(evidence_of(read, mark).recorded_on == "1951");
    CHECK(claim_about(read, "measures").object == Value{Value::Type::number, "18.5", "cm"});
    CHECK(evidence_of(read, claim_about(read, "measures")).source == "source:cards");
    CHECK(claim_about(read, "made-in-year").object == Value{Value::Type::date, "[1935..1938]", ""});
    CHECK(evidence_of(read, claim_about(read, "made-in-year")).source == "source:cards");
}

TEST_CASE("an attribute assignment without a source of its own has that of its graph; one without a property says nothing", "[rdf][mapped]") {
    Problems problems;
    const Collected read = read_text(head + R"(
x:jug a crm:E22_Human-Made_Object . x:anchor a crm:E37_Mark .
x:record { x:act a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:jug ; crm:P141_assigned x:anchor ;
    crm:P177_assigned_property_of_type crm:P65_shows_visual_item . }
x:record prov:hadPrimarySource x:ledger .
x:other a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:jug ; crm:P141_assigned x:anchor .
x:third a crm:E13_Attribute_Assignment ; crm:P140_assigned_attribute_to x:jug ; crm:P141_assigned x:anchor ;
    crm:P177_assigned_property_of_type x:anything .
)",
                                     "acts.trig", problems);
    CHECK_FALSE(problems.any_error());
    REQUIRE(problems.warnings() == 1);
    CHECK(problems.list()[0].id == "rdf-not-mapped");
    CHECK(problems.list()[0].message == "passed over, 1 time: property <https://x.example/anything>");
    CHECK(read.only<Claim>().relation == "bears-mark");
    CHECK(read.only<Evidence>().source == "source:ledger");
}
